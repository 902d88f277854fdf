import { useCallback, useEffect, useRef, useState } from 'react';
import type { PlanTarget } from '../../../studies/plan-advice';
import { adviceWords, PLAN_ASSUMPTIONS } from '../../../studies/plan-words';
import { HOOKUP_LABEL, type Hookup } from '../../../survey/hookup';
import { type StudiesClient, startStudiesClient } from '../../../workers/studies-client';
import { typedNumber } from '../../state/typed-value';
import { AskForm, type Said } from './AskForm';
import { Field } from './Field';

/** Hookups whose readings show a void. */
const HOOKUPS: readonly Hookup[] = ['pole_pole', 'wenner_alpha', 'dipole_dipole', 'pole_dipole'];
const LENGTH_M = 40;
const HOST_OHM_M = 500;

type Planned =
  | { readonly kind: 'nothing' | 'working' }
  | { readonly kind: 'failed'; readonly sentence: string }
  | { readonly kind: 'done'; readonly words: readonly string[] };

/** How to look for a void of a given size and depth: computed beside the page, on request. */
export function PlanSection() {
  const [planned, setPlanned] = useState<Planned>({ kind: 'nothing' });
  const client = useRef<StudiesClient | null>(null);
  const stop = useCallback(() => {
    client.current?.end();
    client.current = null;
  }, []);
  useEffect(() => stop, [stop]);

  const onSaid = async (said: Said): Promise<string | null> => {
    const [radius, depth, scatter] = [
      typedNumber(said('radius')),
      typedNumber(said('depth')),
      typedNumber(said('scatter')),
    ];
    if (!radius.ok) return `Radius: ${radius.sentence}`;
    if (!depth.ok) return `Depth: ${depth.sentence}`;
    if (!scatter.ok) return `Scatter: ${scatter.sentence}`;
    const target: PlanTarget = {
      kind: said('kind') === 'chamber' ? 'chamber' : 'passage',
      radiusM: radius.value,
      depthM: depth.value,
      lengthM: LENGTH_M,
      bearingDeg: 90,
      fillOhmM: Number.POSITIVE_INFINITY,
      hostOhmM: HOST_OHM_M,
    };
    stop();
    setPlanned({ kind: 'working' });
    const own = startStudiesClient((sentence) => setPlanned({ kind: 'failed', sentence }));
    client.current = own;
    const noise = scatter.value / 100;
    const advice = await own.plan(target, said('hookup') as Hookup, noise);
    if (client.current !== own) return null;
    stop();
    setPlanned(advice.ok ? { kind: 'done', words: adviceWords(advice.value, noise) } : { kind: 'nothing' });
    return advice.ok ? null : advice.sentence;
  };

  return (
    <>
      <p className="quiet">What an air-filled void would change, and how to look for it.</p>
      <AskForm label="Plan" action="Work it out" onSaid={onSaid}>
        <div className="lay-fields two">
          <label className="lay-field">
            <span>Look for</span>
            <select name="kind">
              <option value="passage">a passage across the line</option>
              <option value="chamber">a round chamber</option>
            </select>
          </label>
          <label className="lay-field">
            <span>Read by</span>
            <select name="hookup">
              {HOOKUPS.map((hookup) => (
                <option key={hookup} value={hookup}>
                  {HOOKUP_LABEL[hookup]}
                </option>
              ))}
            </select>
          </label>
          <Field name="radius" words="Radius, m" begin="1" />
          <Field name="depth" words="Depth of its middle, m" begin="2" />
          <Field name="scatter" words="Scatter of a reading, %" begin="3" />
        </div>
      </AskForm>
      <div role="status">
        {planned.kind === 'working' && <p>Working it out…</p>}
        {planned.kind === 'failed' && <p>This could not be worked out: {planned.sentence}</p>}
        {planned.kind === 'done' && (
          <>
            <ul className="plain-list">
              {planned.words.map((sentence) => (
                <li key={sentence}>{sentence}</li>
              ))}
            </ul>
            <p className="quiet">Taken for granted: {PLAN_ASSUMPTIONS}</p>
          </>
        )}
      </div>
    </>
  );
}
