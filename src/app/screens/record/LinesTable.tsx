import { useState } from 'react';
import { correctLine } from '../../../survey/edits';
import type { Hookup } from '../../../survey/hookup';
import type { Line } from '../../../survey/survey';
import { metres } from '../../../survey/wording';
import type { Content } from '../../state/app-state';
import { HOOKUP_OPTIONS } from '../../state/cell-edit';
import { useEdit } from './use-edit';

/** Every line: what it is called, how its readings are wired unless they say otherwise, and whether it could be placed. */
export function LinesTable({ content: { survey, findings } }: { content: Content }) {
  const found = new Map(findings.lines.map((line) => [line.lineId, line]));
  const unplaced = new Map(findings.unplaced.map(({ lineId, sentence }) => [lineId, sentence]));
  const counts = new Map<string, number>();
  for (const { line, retired } of survey.readings) if (!retired) counts.set(line, (counts.get(line) ?? 0) + 1);
  const lines = survey.lines.filter(({ retired }) => !retired);
  return (
    <div className="lines-table">
      <table>
        <caption className="unseen">Lines</caption>
        <thead>
          <tr>
            <th scope="col">name</th>
            <th scope="col">hookup</th>
            <th scope="col">length</th>
            <th scope="col">readings</th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => {
            const placed = found.get(line.id);
            return (
              <LineRow
                key={`${line.id} ${line.name}`}
                line={line}
                length={placed ? metres(placed.lengthM) : 'not placed'}
                readings={counts.get(line.id) ?? 0}
                why={unplaced.get(line.id) ?? null}
              />
            );
          })}
        </tbody>
      </table>
      <p className="quiet">
        The hookup here is for readings that do not say their own; “by reading” leaves it to each of them.
      </p>
    </div>
  );
}

interface LineRowProps {
  readonly line: Line;
  readonly length: string;
  readonly readings: number;
  /** Why it is not on the map. */
  readonly why: string | null;
}

function LineRow({ line, length, readings, why }: LineRowProps) {
  const edit = useEdit();
  const [name, setName] = useState(line.name);
  const [refused, setRefused] = useState<string | null>(null);
  const correct = async (correction: Partial<Pick<Line, 'name' | 'hookup'>>) =>
    setRefused(await edit((survey, author) => correctLine(survey, line.id, correction, author)));
  const rename = () => {
    if (name.trim() !== line.name) void correct({ name });
  };
  const said = refused ?? why;
  return (
    <>
      <tr>
        <th scope="row">
          <input
            type="text"
            aria-label={`Name of line ${line.name}`}
            autoComplete="off"
            value={name}
            onChange={(event) => setName(event.target.value)}
            onBlur={rename}
            onKeyDown={(event) => {
              if (event.key === 'Enter') rename();
              if (event.key === 'Escape') {
                setName(line.name);
                setRefused(null);
              }
            }}
          />
        </th>
        <td>
          <select
            aria-label={`Hookup of line ${line.name}`}
            value={line.hookup ?? ''}
            onChange={({ target: { value } }) => void correct({ hookup: (value || null) as Hookup | null })}
          >
            <option value="">by reading</option>
            {HOOKUP_OPTIONS.map(({ value, words }) => (
              <option key={value} value={value}>
                {words}
              </option>
            ))}
          </select>
        </td>
        <td>{length}</td>
        <td>{readings}</td>
      </tr>
      {said !== null && (
        <tr>
          <td colSpan={4} className={refused === null ? 'doubt-line' : 'refused'}>
            {said}
          </td>
        </tr>
      )}
    </>
  );
}
