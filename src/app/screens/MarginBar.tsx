import { useApp, useAppState } from '../app-context';
import { MARGINS, type Margin } from '../state/app-state';
import { ImportButton } from './import/ImportButton';

const NAME: Record<Margin, string> = {
  lay_out: 'Lay out',
  record: 'Record',
  read: 'Read',
  karst: 'Karst',
  hand_over: 'Hand over',
};

/** The slim bar that names the margins. */
export function MarginBar() {
  const { store } = useApp();
  const margin = useAppState((state) => state.margin);
  const sheet = useAppState((state) => state.sheet);
  return (
    <nav className="bar" aria-label="Margins">
      <p className="wordmark">Hollowline</p>
      <ul className="bar-names">
        {MARGINS.map((name) => (
          <li key={name}>
            <button
              type="button"
              className="bar-name"
              aria-current={name === margin ? 'page' : undefined}
              aria-expanded={name === margin && sheet !== 'closed'}
              aria-controls="margin"
              onClick={() => store.dispatch({ type: 'margin', margin: name })}
            >
              {NAME[name]}
            </button>
          </li>
        ))}
      </ul>
      <ImportButton />
      <button
        type="button"
        className="grip"
        aria-label={sheet === 'full' ? 'Margin to half height' : 'Margin to full height'}
        onClick={() => store.dispatch({ type: 'sheet', sheet: sheet === 'full' ? 'half' : 'full' })}
      >
        <svg viewBox="0 0 24 24" aria-hidden="true">
          <path d={sheet === 'full' ? 'M4 8l8 8 8-8' : 'M4 16l8-8 8 8'} />
        </svg>
      </button>
    </nav>
  );
}
