import { featureTypeOf } from '../../../survey/feature-type';
import type { Survey } from '../../../survey/survey';
import { useApp, useAppState } from '../../app-context';
import { typeWords } from '../../words/karst-words';
import { SymbolView } from './SymbolView';
import { Tick } from './Tick';

/** The symbols that are on the map, and which layers of the inventory lie on it. */
export function KarstLayers({ survey }: { survey: Survey }) {
  const { store } = useApp();
  const { shown, density, setbacks } = useAppState((state) => state.karst);
  const counts = new Map<string, number>();
  let unknown = 0;
  for (const { type, retired } of survey.features) {
    const known = featureTypeOf(type);
    if (retired) continue;
    if (known === null) unknown += 1;
    else counts.set(known, (counts.get(known) ?? 0) + 1);
  }
  const types = [...counts].sort(([p, m], [q, n]) => n - m || (p < q ? -1 : 1));
  const turn = (layer: keyof typeof shown) => (on: boolean) =>
    store.dispatch({ type: 'karst', karst: { shown: { ...shown, [layer]: on } } });
  return (
    <section aria-labelledby="karst-legend-head">
      <h2 id="karst-legend-head">On the map</h2>
      <Tick words="Features" on={shown.features} onTurn={turn('features')} />
      {density && <Tick words={`Density: ${density.words}`} on={shown.density} onTurn={turn('density')} />}
      {setbacks && <Tick words={`Setbacks: ${setbacks.words}`} on={shown.setbacks} onTurn={turn('setbacks')} />}
      {shown.features && (
        <ul className="legend">
          {types.map(([type, count]) => (
            <li key={type}>
              <SymbolView type={type} />
              <span>
                {typeWords(type)}, {count}
              </span>
            </li>
          ))}
          {unknown > 0 && (
            <li>
              <SymbolView type="" />
              <span>of no type that is known here, {unknown}</span>
            </li>
          )}
          {survey.features.some(({ status, retired }) => status === 'rejected' && !retired) && (
            <li>
              <SymbolView type="sinkhole_unknown" rejected />
              <span>struck through: rejected, whatever the symbol</span>
            </li>
          )}
        </ul>
      )}
      <p className="quiet">A ring with a number stands for so many features that lie close; a tap goes nearer.</p>
    </section>
  );
}
