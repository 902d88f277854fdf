import type { Findings, ReferenceCurve } from '../../findings';
import { HOOKUP_LABEL } from '../../survey/hookup';
import { metres, ohmMetres } from '../../survey/wording';
import { spacingWords } from '../words/describe-reading';

/** The widest pool of each hookup, which is what a person wants to see first. */
function shownCurves(curves: readonly ReferenceCurve[]): ReferenceCurve[] {
  const hookups = [...new Set(curves.map((curve) => curve.hookup))];
  return hookups.flatMap((hookup) => {
    const own = curves.filter((curve) => curve.hookup === hookup);
    const pooled = own.filter((curve) => curve.day === null && curve.wetting === null);
    return pooled.length > 0 ? pooled : own;
  });
}

function curveTitle({ hookup, kind, day, wetting }: ReferenceCurve): string {
  const where = kind === 'reference' ? 'reference stations' : 'median of the site (no reference stations)';
  const when = [day, wetting].filter((part) => part !== null).join(', ');
  return `${HOOKUP_LABEL[hookup]}: ${where}${when ? ` (${when})` : ''}`;
}

/** What "the reference" is here: its figures by spacing, for each hookup. */
export function ReferenceTable({ findings }: { findings: Findings }) {
  const curves = shownCurves(findings.references);
  if (curves.length === 0) return <p>There is no reference, so nothing is graded.</p>;
  return (
    <details className="reference">
      <summary>The reference</summary>
      {curves.map((curve) => (
        <table key={curveTitle(curve)}>
          <caption>{curveTitle(curve)}</caption>
          <thead>
            <tr>
              <th scope="col">spacing</th>
              <th scope="col">figure</th>
              <th scope="col">stations</th>
            </tr>
          </thead>
          <tbody>
            {curve.points.map((point) => (
              <tr key={String(point.spacingM)}>
                <td>{point.spacingM === null ? spacingWords(null) : metres(point.spacingM)}</td>
                <td>{ohmMetres(point.figureOhmM)}</td>
                <td>{point.stations}</td>
              </tr>
            ))}
          </tbody>
        </table>
      ))}
    </details>
  );
}
