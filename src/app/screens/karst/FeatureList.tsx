import { useId, useMemo, useState } from 'react';
import { featureName, featuresWords, STATUS_WORDS, typeWords } from '../../../karst/feature-words';
import type { Feature } from '../../../survey/survey';
import { SymbolView } from './SymbolView';
import { Tick } from './Tick';
import { useFound } from './use-found';

const PAGE = 30;
/** Stands for features of which nobody said where they are from. */
const NOT_SAID = '\u0000';

const choices = (values: readonly string[]): string[] => [...new Set(values)].sort();

/** The inventory as text: filtered, a page at a time, each leading to its card. */
export function FeatureList({
  features,
  onOpen,
}: {
  features: readonly Feature[];
  onOpen: (id: Feature['id']) => void;
}) {
  const id = useId();
  const [type, setType] = useState('');
  const [status, setStatus] = useState('');
  const [source, setSource] = useState('');
  const [text, setText] = useState('');
  const [onlyUnverified, setOnlyUnverified] = useState(false);
  const [retired, setRetired] = useState(false);
  const [page, setPage] = useState(0);
  const types = useMemo(() => choices(features.map((feature) => feature.type)), [features]);
  const sources = useMemo(() => choices(features.map((feature) => feature.source ?? '')), [features]);
  const found = useFound(features, {
    ...{ type, status, text, onlyUnverified, retired },
    source: source === '' ? null : source === NOT_SAID ? '' : source,
  });
  const pages = Math.max(1, Math.ceil(found.length / PAGE));
  const at = Math.min(page, pages - 1);
  const turn =
    <T,>(set: (value: T) => void) =>
    (value: T) => {
      set(value);
      setPage(0);
    };
  const select = (
    label: string,
    value: string,
    set: (value: string) => void,
    options: readonly (readonly [string, string])[],
  ) => (
    <label className="karst-field">
      <span>{label}</span>
      <select value={value} onChange={(event) => turn(set)(event.target.value)}>
        <option value="">all</option>
        {options.map(([key, words]) => (
          <option key={key} value={key}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>Features</h2>
      <label className="karst-field">
        <span>Search names, numbers, notes</span>
        <input type="search" value={text} onChange={(event) => turn(setText)(event.target.value)} />
      </label>
      <details>
        <summary>Filter</summary>
        {select(
          'Type',
          type,
          setType,
          types.map((each) => [each, typeWords(each)] as const),
        )}
        {select('Status', status, setStatus, Object.entries(STATUS_WORDS))}
        {select(
          'Source',
          source,
          setSource,
          sources.map((each) => [each || NOT_SAID, each || 'not said'] as const),
        )}
        <Tick words="Only what nobody verified" on={onlyUnverified} onTurn={turn(setOnlyUnverified)} />
        <Tick words="Taken out" on={retired} onTurn={turn(setRetired)} />
      </details>
      <p role="status" className="quiet">
        {found.length === 0
          ? 'No feature is like this.'
          : `${featuresWords(found.length)}${pages > 1 ? `; ${at * PAGE + 1} to ${Math.min(found.length, (at + 1) * PAGE)} shown` : ''}.`}
      </p>
      <ul className="row-list">
        {found.slice(at * PAGE, (at + 1) * PAGE).map((feature) => (
          <li key={feature.id}>
            <button type="button" className="row-button" onClick={() => onOpen(feature.id)}>
              <SymbolView type={feature.type} rejected={feature.status === 'rejected'} />
              <span className="row-words">
                <span className="row-place">{featureName(feature)}</span>
                <span className="row-verdict">
                  {typeWords(feature.type)}; {STATUS_WORDS[feature.status]}
                  {feature.confidentiality ? `; ${feature.confidentiality}` : ''}
                </span>
              </span>
            </button>
          </li>
        ))}
      </ul>
      {pages > 1 && (
        <div className="karst-buttons">
          <button type="button" className="line-button" disabled={at === 0} onClick={() => setPage(at - 1)}>
            Previous page
          </button>
          <button type="button" className="line-button" disabled={at === pages - 1} onClick={() => setPage(at + 1)}>
            Next page
          </button>
        </div>
      )}
    </section>
  );
}
