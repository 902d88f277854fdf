import { useState } from 'react';
import { backdrops } from '../../backdrop/backdrops';
import { otherPage } from '../../backdrop/may-load-tiles';
import { hostOf, readTileAddress } from '../../backdrop/tile-address';
import { Field } from '../layout/Field';

/** An address of tiles, and what asking it gives away. */
export function OnlineTilesForm() {
  const [refused, setRefused] = useState<string | null>(null);
  const add = async (form: FormData) => {
    const address = readTileAddress(String(form.get('address') ?? ''));
    if (!address.ok) return setRefused(address.sentence);
    const attribution = String(form.get('attribution') ?? '').trim();
    if (attribution === '') return setRefused('Say whose tiles they are: it is shown on the map.');
    setRefused(null);
    const name = hostOf(address.value);
    await backdrops.add({ name, kind: 'online', attribution, bounds: null, address: address.value }, null, null);
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void add(new FormData(event.currentTarget));
      }}
    >
      <h3>Tiles from the network</h3>
      <p>
        Whoever runs that server sees from where you ask and which ground you look at, which can give a protected place
        away. Your readings are not sent. Nothing of it is kept for when there is no signal.
      </p>
      <Field
        name="address"
        words="Address of the tiles"
        inputMode="text"
        hint="https://… with {z}, {x} and {y} where zoom, column and row go"
      />
      <Field name="attribution" words="Whose they are (shown on the map)" inputMode="text" />
      {refused !== null && (
        <p className="faults" role="alert">
          {refused}
        </p>
      )}
      <p className="row-actions">
        <button type="submit" className="line-button">
          Show these tiles
        </button>
      </p>
      <p>
        <a className="backdrop-link" href={otherPage()}>
          Back to the page that asks no other server
        </a>
      </p>
    </form>
  );
}
