import { type FormEvent, useState } from 'react';
import { EQUAL_AREA_WORDS } from '../../../karst/equal-area';
import { featuresWords, leftOutWords } from '../../../karst/feature-words';
import { done, type Outcome } from '../../../survey/outcome';
import type { Survey } from '../../../survey/survey';
import type { DensityDrawn } from '../../../workers/karst-table';
import { useApp, useAppState } from '../../app-context';
import { areasDrawn } from '../../karst/draw-features';
import { typedNumber } from '../../state/typed-value';
import { questionOf } from './question-of';
import { Tick } from './Tick';
import { useKarstWork } from './use-karst-work';
import { WorkNote } from './WorkNote';

/** How many features on a square kilometre, as a layer of the map and in words. */
export function DensityPart({ survey }: { survey: Survey }) {
  const { store } = useApp();
  const overlay = useAppState((state) => state.karst.density);
  const { state, ask, cancel } = useKarstWork<Outcome<DensityDrawn>>();
  const [cell, setCell] = useState('1000');
  const [bandwidth, setBandwidth] = useState('');
  const [withUnverified, setWithUnverified] = useState(false);
  const typedCell = typedNumber(cell);
  const typedWidth = bandwidth.trim() === '' ? done(null) : typedNumber(bandwidth);
  const cellM = typedCell.ok ? typedCell.value : Number.NaN;
  const bandwidthM = typedWidth.ok ? typedWidth.value : Number.NaN;
  const wrong = [typedCell, typedWidth].find(({ ok }) => !ok);
  const isRight = cellM >= 1 && (bandwidthM === null || bandwidthM >= 1);
  const submit = async (event: FormEvent): Promise<void> => {
    event.preventDefault();
    if (!isRight) return;
    const found = await ask((client) => client.density(questionOf(survey, withUnverified), cellM, bandwidthM));
    if (!found?.ok) return;
    const words = `features on a km², by ${bandwidthM === null ? `squares of ${cellM} m` : `a quartic kernel of ${bandwidthM} m`}`;
    store.dispatch({
      type: 'karst',
      karst: { density: { of: survey.features, drawn: areasDrawn(found.value.cells), words } },
    });
  };
  const result = state.kind === 'done' ? state.result : null;
  return (
    <>
      <form className="karst-form" onSubmit={(event) => void submit(event)}>
        <label className="karst-field">
          <span>Side of a square, m</span>
          <input inputMode="decimal" value={cell} onChange={(event) => setCell(event.target.value)} />
        </label>
        <label className="karst-field">
          <span>Bandwidth of the kernel, m (empty: counted by squares)</span>
          <input inputMode="decimal" value={bandwidth} onChange={(event) => setBandwidth(event.target.value)} />
        </label>
        <Tick words="Count unverified depressions and anomalies, too" on={withUnverified} onTurn={setWithUnverified} />
        {!isRight && <p role="alert">{wrong && !wrong.ok ? wrong.sentence : 'Say lengths of 1 m or more.'}</p>}
        <button type="submit" className="line-button" disabled={!isRight}>
          Draw the density
        </button>
      </form>
      <WorkNote state={state} what="Counting" onCancel={cancel} />
      {result && !result.ok && <p role="alert">{result.sentence}</p>}
      {result?.ok && (
        <p role="status">
          {featuresWords(result.value.count)} in {result.value.occupied} squares, {result.value.most} at most in one;
          the densest has {result.value.mostPerKm2.toPrecision(3)} on a km². {leftOutWords(result.value.leftOut)}
        </p>
      )}
      {overlay && overlay.of !== survey.features && (
        <p role="status">The features have changed since this was drawn. Draw it again.</p>
      )}
      <p className="quiet">{EQUAL_AREA_WORDS}</p>
    </>
  );
}
