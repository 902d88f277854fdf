import type { Drape } from '../../exchange/write/layer-collection';
import { useApp, useAppState } from '../app-context';
import { changeDrape } from '../open-survey';

const CHOICES: readonly { readonly drape: Drape; readonly name: string }[] = [
  { drape: 'midpoint', name: 'at its midpoint' },
  { drape: 'probes', name: 'at its probes' },
];

/** A reading belongs to its midpoint and to both its probes; the map can lay it on either. */
export function DrapeChoice() {
  const { store, client } = useApp();
  const chosen = useAppState((state) => state.drape);
  return (
    <fieldset className="drape">
      <legend>Lay each reading</legend>
      {CHOICES.map(({ drape, name }) => (
        <label key={drape} className="chip">
          <input
            type="radio"
            name="drape"
            checked={drape === chosen}
            onChange={() => void changeDrape(store, client, drape)}
          />
          <span>{name}</span>
        </label>
      ))}
      <p className="quiet">
        At wide spacing a void raises readings with one probe over it and lowers those with their midpoint over it: look
        at both.
      </p>
    </fieldset>
  );
}
