import { metres, ohmMetres } from '../../survey/wording';
import type { Content } from '../state/app-state';
import { curveWords, shownCurves } from '../words/reference-words';

/** What "the reference" is here: where it was read, and its figures by spacing, for each hookup. */
export function ReferenceTable({ content: { survey, findings } }: { content: Content }) {
  const curves = shownCurves(findings);
  if (curves.length === 0) return <p>There is no reference, so nothing is graded.</p>;
  return (
    <>
      <p>The reference is {curves.map((curve) => curveWords(curve, survey)).join('; ')}.</p>
      <details className="reference">
        <summary>The reference in numbers</summary>
        {curves.map((curve) => (
          <table key={curveWords(curve, survey)}>
            <caption>{curveWords(curve, survey)}</caption>
            <thead>
              <tr>
                <th scope="col">spacing</th>
                <th scope="col">figure</th>
              </tr>
            </thead>
            <tbody>
              {curve.points.map((point) => (
                <tr key={String(point.spacingM)}>
                  <th scope="row">{point.spacingM === null ? 'not said' : metres(point.spacingM)}</th>
                  <td>{ohmMetres(point.figureOhmM)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        ))}
      </details>
    </>
  );
}
