import type { TablePreview } from '../../../exchange/read/preview';

/** The first rows as they stand, under the headers as they were parted. */
export function SampleRows({ preview: { columns, rows, file } }: { preview: TablePreview }) {
  if (rows.length === 0) return null;
  return (
    <details className="samples">
      <summary>First rows of {file}</summary>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it has to be scrolled with the keyboard too */}
      <section className="samples-scroll" tabIndex={0} aria-label={`First rows of ${file}`}>
        <table>
          <thead>
            <tr>
              <th scope="col">row</th>
              {columns.map(({ header }, i) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: a column is where it stands
                <th key={i} scope="col">
                  {header}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ row, cells }) => (
              <tr key={row}>
                <th scope="row">{row}</th>
                {columns.map((_, i) => (
                  // biome-ignore lint/suspicious/noArrayIndexKey: a column is where it stands
                  <td key={i}>{cells[i] ?? ''}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </details>
  );
}
