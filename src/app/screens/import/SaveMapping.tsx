import { useState } from 'react';
import type { ColumnsMap } from '../../../exchange/read/columns';
import { columnsMapText } from '../../../exchange/write/columns-map';
import { saveFile } from '../../save-file';

/** How the files are read, as the file that the command line takes. */
export function SaveMapping({ columns }: { columns: ColumnsMap }) {
  const [said, setSaid] = useState('');
  return (
    <section aria-labelledby="mapping-head">
      <h3 id="mapping-head">For the next time</h3>
      <p className="quiet">
        The survey remembers how these files were read: others with the same headers are then read alike. As a file it
        serves the command line (--columns columns.json), or is dropped here beside the tables.
      </p>
      <button
        type="button"
        className="line-button"
        onClick={() => {
          saveFile('columns.json', columnsMapText(columns), 'application/json');
          setSaid('columns.json saved.');
        }}
      >
        Save how they are read
      </button>
      <p role="status">{said}</p>
    </section>
  );
}
