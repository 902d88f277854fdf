import type { PlannedReading } from '../../../studies/plan';
import { changeText } from '../../../studies/plan-words';
import { metres, significant } from '../../../survey/wording';

/** What would be read, reading by reading. */
export function PlanReadings({ readings }: { readings: readonly PlannedReading[] }) {
  return (
    <table className="lay-table plan-readings">
      <caption>Readings that would be seen</caption>
      <thead>
        <tr>
          <th scope="col">Spacing</th>
          <th scope="col">Midpoint</th>
          <th scope="col">Reads</th>
          <th scope="col">Change</th>
        </tr>
      </thead>
      <tbody>
        {readings.map(({ spacingM, offsetM, figureOhmM, ratio }) => (
          <tr key={`${spacingM}:${offsetM}`}>
            <th scope="row">{metres(spacingM)}</th>
            <td>{offsetM === 0 ? 'over it' : `${metres(offsetM)}`}</td>
            <td>{significant(figureOhmM, 4)} Ω·m</td>
            <td>{ratio === null ? '' : changeText(ratio - 1)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
