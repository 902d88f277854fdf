import { metres } from '../../../survey/wording';
import type { Content } from '../../state/app-state';
import type { RecordFilter } from '../../state/record-rows';

export interface FilterBarProps {
  readonly content: Content;
  readonly spacings: readonly (number | null)[];
  readonly filter: RecordFilter;
  readonly onFilter: (filter: RecordFilter) => void;
}

const ONLY: readonly { readonly only: RecordFilter['only']; readonly words: string }[] = [
  { only: 'all', words: 'any status' },
  { only: 'doubted', words: 'only doubted' },
  { only: 'rejected', words: 'only rejected' },
];

/** Narrows the table down. */
export function FilterBar({ content, spacings, filter, onFilter }: FilterBarProps) {
  return (
    <search className="filter-bar">
      <label>
        <span className="unseen">Find in the table</span>
        <input
          type="search"
          placeholder="Find…"
          value={filter.text}
          onChange={(event) => onFilter({ ...filter, text: event.target.value })}
        />
      </label>
      <label>
        <span className="unseen">Line</span>
        <select
          value={filter.line ?? ''}
          onChange={(event) => onFilter({ ...filter, line: event.target.value || null })}
        >
          <option value="">all lines</option>
          {content.survey.lines
            .filter(({ retired }) => !retired)
            .map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
        </select>
      </label>
      <label>
        <span className="unseen">Spacing</span>
        <select
          value={String(filter.spacing ?? '')}
          onChange={({ target: { value } }) =>
            onFilter({ ...filter, spacing: value === '' ? null : value === 'not_said' ? 'not_said' : Number(value) })
          }
        >
          <option value="">all spacings</option>
          {spacings.map((spacing) => (
            <option key={String(spacing)} value={spacing ?? 'not_said'}>
              {spacing === null ? 'not said' : metres(spacing)}
            </option>
          ))}
        </select>
      </label>
      <label>
        <span className="unseen">Status</span>
        <select
          value={filter.only}
          onChange={({ target: { value } }) =>
            onFilter({ ...filter, only: ONLY.find(({ only }) => only === value)?.only ?? 'all' })
          }
        >
          {ONLY.map(({ only, words }) => (
            <option key={only} value={only}>
              {words}
            </option>
          ))}
        </select>
      </label>
    </search>
  );
}
