import { type FormEvent, useId } from 'react';
import type { InventoryMapping } from '../../../exchange/read/karst-columns';

const FIELDS = [
  { key: 'source', words: 'Where it comes from', mode: 'text' },
  { key: 'accuracy_m', words: 'Accuracy of its places, m (95 %)', mode: 'decimal' },
  { key: 'confidentiality', words: 'Confidentiality class of all', mode: 'text' },
] as const;

/** What the file does not say and a person knows, for all of its features at once. */
export function FileSays({
  mapping,
  onCorrect,
}: {
  mapping: InventoryMapping;
  onCorrect: (mapping: InventoryMapping) => void;
}) {
  const id = useId();
  const submit = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const said = new FormData(event.currentTarget);
    const constants: Record<string, string | number> = { ...mapping.constants };
    for (const { key } of FIELDS) {
      const text = String(said.get(key) ?? '').trim();
      if (text === '') delete constants[key];
      else constants[key] = text;
    }
    const crs = String(said.get('crs') ?? '').trim();
    const { crs: _, ...others } = mapping;
    onCorrect({ ...others, constants, ...(crs === '' ? {} : { crs: /^\d+$/.test(crs) ? `EPSG:${crs}` : crs }) });
  };
  return (
    <details>
      <summary>Said once for the whole file</summary>
      <form onSubmit={submit} className="karst-form">
        {FIELDS.map(({ key, words, mode }) => (
          <label key={key} htmlFor={`${id}-${key}`} className="karst-field">
            <span>{words}</span>
            <input
              id={`${id}-${key}`}
              name={key}
              inputMode={mode}
              autoComplete="off"
              defaultValue={String(mapping.constants?.[key] ?? '')}
            />
          </label>
        ))}
        <label htmlFor={`${id}-crs`} className="karst-field">
          <span>Coordinate system of easting and northing, such as EPSG:26915</span>
          <input id={`${id}-crs`} name="crs" autoComplete="off" defaultValue={mapping.crs ?? ''} />
        </label>
        <button type="submit" className="line-button">
          Read it so
        </button>
      </form>
    </details>
  );
}
