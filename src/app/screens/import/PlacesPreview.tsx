import { useId, useState } from 'react';
import type { TableKind } from '../../../exchange/read/headers';
import type { FilePlaces, NamedPlace } from '../../../exchange/read/places-map';
import type { UnderstoodPlace, UnderstoodPlaces } from '../../../exchange/read/understood-places';
import type { Note } from '../../../survey/note';
import { counted, nameList } from '../../../survey/wording';
import { TABLE_WORDS } from '../../words/table-words';
import { FaultNotes, OtherNotes } from './ImportNotes';
import { PointSketch } from './PointSketch';
import { placeText, typedPlace, withCount, withName } from './place-text';
import { TypedField } from './TypedField';

/** Names that are shown; the rest is corrected with a columns map. */
const SHOWN = 300;
const KINDS = Object.keys(TABLE_WORDS) as TableKind[];
const FORMAT_WORDS = { gpx: 'GPX', kml: 'KML', geojson: 'GeoJSON', table: 'a table of places' } as const;
const KIND_WORDS = { point: 'point', track: 'track', route: 'route', line: 'drawn line', outline: 'outline' } as const;

export interface PlacesPreviewProps {
  readonly understood: UnderstoodPlaces;
  readonly map: FilePlaces;
  /** What reading this file has to say. */
  readonly notes: readonly Note[];
  readonly onCorrect: (map: FilePlaces) => void;
  /** Reads a table of places as one of the survey's own kinds instead. */
  readonly onAsTable: (table: TableKind) => void;
  readonly onLeaveOut: () => void;
}

/** One file of places: which line and place each name was taken for, to be corrected. */
export function PlacesPreview({ understood, map, notes, onCorrect, onAsTable, onLeaveOut }: PlacesPreviewProps) {
  const id = useId();
  const { file, format, entries, lineCount, pointCount, matchedPoints } = understood;
  return (
    <section className="file" aria-labelledby={id}>
      <div className="file-top">
        <h3 id={id}>{file}</h3>
        <button type="button" className="line-button" onClick={onLeaveOut}>
          Leave this file out
        </button>
      </div>
      {format && (
        <p className="quiet">
          {FORMAT_WORDS[format]} with {counted(lineCount, 'line')} and {counted(pointCount, 'point')}; {matchedPoints}{' '}
          of the points name a place of a line.
        </p>
      )}
      {format === 'table' && (
        <label className="field">
          <span>This table holds</span>
          <select
            value=""
            onChange={(event) => {
              const chosen = KINDS.find((kind) => kind === event.target.value);
              if (chosen) onAsTable(chosen);
            }}
          >
            <option value="">places by name</option>
            {KINDS.map((kind) => (
              <option key={kind} value={kind}>
                {TABLE_WORDS[kind]}
              </option>
            ))}
          </select>
        </label>
      )}
      <FaultNotes notes={notes} />
      {entries.length > 0 && (
        <>
          <TypedField
            words="Metres from electrode to electrode, if even"
            said={String(map.step_m ?? '')}
            numeric
            onSay={(text) => onCorrect(withCount(map, 'step_m', text))}
          />
          <TypedField
            words="Electrodes on each line, if all have the same"
            said={String(map.electrodes ?? '')}
            numeric
            onSay={(text) => onCorrect(withCount(map, 'electrodes', text))}
          />
          <section className="samples-scroll" aria-label={`Names in ${file}`}>
            <table className="names">
              <thead>
                <tr>
                  <th scope="col">name in the file</th>
                  <th scope="col">line</th>
                  <th scope="col">place on it</th>
                  <th scope="col">taken</th>
                </tr>
              </thead>
              <tbody>
                {entries.slice(0, SHOWN).map((entry) => (
                  <NameRow
                    key={entry.key}
                    entry={entry}
                    onSay={(place) => onCorrect(withName(map, entry.key, place))}
                  />
                ))}
              </tbody>
            </table>
          </section>
          <p className="quiet">
            A place is written as e24 (electrode 24), 12.5 m, start, end or remote B.
            {entries.length > SHOWN && ` ${counted(entries.length - SHOWN, 'more name')} not shown.`}
          </p>
          <PointSketch places={understood.places} unit={null} />
        </>
      )}
      <OtherNotes notes={notes} />
    </section>
  );
}

function NameRow({ entry, onSay }: { entry: UnderstoodPlace; onSay: (place: NamedPlace | null) => void }) {
  const [line, setLine] = useState<string | null>(null);
  const [at, setAt] = useState<string | null>(null);
  const lineText = line ?? nameList(entry.lines);
  const atText = at ?? placeText(entry.at);
  const place = typedPlace(entry.kind, lineText, atText);
  const isTyped = line !== null || at !== null;
  const say = () => {
    if (isTyped && place !== undefined) onSay(place);
  };
  const taken = entry.kind === 'point' ? entry.at !== null : entry.lines.length > 0;
  return (
    <tr>
      <th scope="row">
        {entry.key} <span className="quiet">{[KIND_WORDS[entry.kind], entry.folder].filter(Boolean).join(', ')}</span>
      </th>
      <td>
        <input
          type="text"
          aria-label={`Line of ${entry.key}`}
          value={lineText}
          autoComplete="off"
          onChange={(event) => setLine(event.target.value)}
          onBlur={say}
        />
      </td>
      <td>
        {entry.kind === 'point' ? (
          <input
            type="text"
            aria-label={`Place of ${entry.key} on its line`}
            aria-invalid={isTyped && place === undefined}
            value={atText}
            autoComplete="off"
            onChange={(event) => setAt(event.target.value)}
            onBlur={say}
          />
        ) : (
          'its whole length'
        )}
      </td>
      <td>{taken ? (entry.sure ? 'yes' : 'yes, look at it') : 'no'}</td>
    </tr>
  );
}
