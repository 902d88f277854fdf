import { useState } from 'react';
import { placeText } from '../../../position/coordinate-format';
import { metres } from '../../../survey/wording';
import { useAppState } from '../../app-context';
import { lengthWords } from '../../words/layout-words';
import { CopyButton } from './CopyButton';

export interface TabledPlace {
  readonly chainageM: number;
  readonly lon: number;
  readonly lat: number;
  readonly uncertainty95M: number;
}

const FIRST = 40;

/** Places along a line in the chosen form, with how sure they are; to be read off or copied. */
export function PlacesTable({ caption, places }: { caption: string; places: readonly TabledPlace[] }) {
  const form = useAppState(({ layout }) => layout.coordinateForm);
  const [all, setAll] = useState(false);
  const textOf = (place: TabledPlace): string => {
    const text = placeText(place, form, place.uncertainty95M);
    return text.ok ? text.value : text.sentence;
  };
  return (
    <>
      <table className="lay-table places">
        <caption className="unseen">{caption}</caption>
        <thead>
          <tr>
            <th scope="col">at</th>
            <th scope="col">where</th>
            <th scope="col">
              <abbr title="radius that holds it with 95 %">±</abbr>
            </th>
          </tr>
        </thead>
        <tbody>
          {places.slice(0, all ? places.length : FIRST).map((place) => (
            <tr key={place.chainageM}>
              <th scope="row">{metres(place.chainageM)}</th>
              <td>{textOf(place)}</td>
              <td>{lengthWords(place.uncertainty95M)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {!all && places.length > FIRST && (
        <button type="button" className="line-button" onClick={() => setAll(true)}>
          Show all {places.length}
        </button>
      )}
      <CopyButton
        words="Copy the table"
        text={() =>
          ['chainage_m\tplace\tradius_95_m']
            .concat(
              places.map((place) =>
                [Number(place.chainageM.toFixed(3)), textOf(place), place.uncertainty95M.toFixed(2)].join('\t'),
              ),
            )
            .join('\n')
        }
      />
    </>
  );
}
