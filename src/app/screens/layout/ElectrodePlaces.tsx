import type { LineFindings } from '../../../findings';
import { FormPicker } from './FormPicker';
import { PlacesTable, type TabledPlace } from './PlacesTable';

/** Where every electrode of the line comes to stand. */
export function ElectrodePlaces({ found }: { found: LineFindings }) {
  const places = found.electrodes
    .flatMap(({ chainageM, lon, lat, uncertainty95M }): TabledPlace[] =>
      chainageM === null ? [] : [{ chainageM, lon, lat, uncertainty95M }],
    )
    .sort((p, q) => p.chainageM - q.chainageM);
  return (
    <>
      <FormPicker />
      {places.length > 0 && <PlacesTable caption="Electrodes of this line" places={places} />}
    </>
  );
}
