import type { InventoryMapping } from '../../../exchange/read/karst-columns';
import { featuresWords, typeWords } from '../../../karst/feature-words';
import { FEATURE_TYPES } from '../../../survey/feature-type';
import type { InventoryPreview } from '../../../workers/karst-table';

/** Words that are listed: a column of free text has as many as rows. */
const MOST = 40;
const NOT_WANTED = 'not_wanted';

/** What the file calls its features, and which type each word was taken for. */
export function TypeChoices({
  preview,
  mapping,
  onCorrect,
}: {
  preview: InventoryPreview;
  mapping: InventoryMapping;
  onCorrect: (mapping: InventoryMapping) => void;
}) {
  const { types, columns } = preview;
  const hasColumn = columns.some(({ field }) => field === 'type');
  const options = FEATURE_TYPES.map((type) => (
    <option key={type} value={type}>
      {typeWords(type)}
    </option>
  ));
  if (!hasColumn) {
    return (
      <label className="karst-field">
        <span>No column says the type. All of them are</span>
        <select
          value={String(mapping.constants?.type ?? '')}
          onChange={({ target }) => {
            const { type: _, ...others } = mapping.constants ?? {};
            onCorrect({ ...mapping, constants: target.value === '' ? others : { ...others, type: target.value } });
          }}
        >
          <option value="">not said</option>
          {options}
        </select>
      </label>
    );
  }
  const said = new Map(
    Object.entries(mapping.values?.type ?? {}).map(([word, type]) => [word, type ?? NOT_WANTED] as const),
  );
  const say = (word: string, value: string): void => {
    const { [word]: _, ...others } = mapping.values?.type ?? {};
    const type = value === '' ? others : { ...others, [word]: value === NOT_WANTED ? null : value };
    onCorrect({ ...mapping, values: { ...mapping.values, type } });
  };
  return (
    <>
      <h3>What it calls its features</h3>
      <ul className="columns karst-columns">
        {types.slice(0, MOST).map(({ word, count, type, by, wanted }) => {
          // A shortened word stands for many; it is mended in the file, or by its column.
          const mayChoose = by !== 'beginning';
          return (
            <li key={`${word} ${by}`} data-left-out={!wanted}>
              <div className="column-words">
                <span className="column-header">{word}</span>
                <span className="column-samples">{featuresWords(count)}</span>
              </div>
              <div className="column-meaning">
                {mayChoose ? (
                  <select
                    aria-label={`Type of ${word}`}
                    value={(said.has(word) ? said.get(word) : wanted ? type : NOT_WANTED) ?? ''}
                    onChange={({ target }) => say(word, target.value)}
                  >
                    <option value="">no known type: kept, not counted</option>
                    <option value={NOT_WANTED}>not wanted: left out</option>
                    {options}
                  </select>
                ) : (
                  <p className="column-remark">Taken for: {typeWords(type ?? word)}, by its first words</p>
                )}
              </div>
            </li>
          );
        })}
      </ul>
      {types.length > MOST && <p className="quiet">And {types.length - MOST} more words, read in the same way.</p>}
    </>
  );
}
