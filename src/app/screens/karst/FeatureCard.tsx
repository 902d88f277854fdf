import { useState } from 'react';
import { DEFINITIONS } from '../../../karst/definitions';
import { restoreFeature } from '../../../karst/feature-edits';
import { featureName, STATUS_WORDS, typeWords } from '../../../karst/feature-words';
import { placeFeature } from '../../../karst/placed';
import { retireFeatureFor } from '../../../karst/retire-feature';
import { featureTypeOf } from '../../../survey/feature-type';
import type { Feature } from '../../../survey/survey';
import { metres } from '../../../survey/wording';
import { Photos } from '../../photos/Photos';
import type { Content } from '../../state/app-state';
import { CardFrame } from '../CardFrame';
import { ReasonForm } from '../record/ReasonForm';
import { useEdit } from '../record/use-edit';
import { FeatureForm } from './FeatureForm';
import { SymbolView } from './SymbolView';

const CONSENT = { yes: 'the owner agreed', no: 'the owner said no', unknown: 'asked, no clear answer' } as const;

/** A feature: what it is and who says so, what may be shown of it, and what can be said about it. */
export function FeatureCard({
  content,
  feature,
  onClose,
  onZone,
}: {
  content: Content;
  feature: Feature;
  onClose: () => void;
  onZone: (key: string) => void;
}) {
  const make = useEdit();
  const [asking, setAsking] = useState<'change' | 'retire' | null>(null);
  const known = featureTypeOf(feature.type);
  const definition = known ? DEFINITIONS[known] : null;
  const zones = (feature.links ?? []).filter(
    ({ kind, target }) => kind === 'zone' && content.findings.zones.some(({ key }) => key === target),
  );
  return (
    <CardFrame
      title={featureName(feature)}
      verdict={
        <>
          <SymbolView type={feature.type} rejected={feature.status === 'rejected'} /> {typeWords(feature.type)};{' '}
          {feature.retired ? 'taken out' : STATUS_WORDS[feature.status]}
        </>
      }
      rows={rowsOf(content, feature)}
      onClose={onClose}
      after={
        <>
          {zones.map(({ target }) => (
            <button key={target} type="button" className="line-button" onClick={() => onZone(target)}>
              Open {content.findings.zones.find(({ key }) => key === target)?.name}
            </button>
          ))}
          {asking === null && (
            <div className="karst-buttons">
              <button type="button" className="line-button" onClick={() => setAsking('change')}>
                Change what is said
              </button>
              {feature.retired ? (
                <button
                  type="button"
                  className="line-button"
                  onClick={() => void make((survey, author) => restoreFeature(survey, feature.id, author))}
                >
                  Restore
                </button>
              ) : (
                <button type="button" className="line-button" onClick={() => setAsking('retire')}>
                  Take it out
                </button>
              )}
            </div>
          )}
          {asking === 'retire' && (
            <ReasonForm
              label="Why it is taken out"
              action="Take it out"
              onCancel={() => setAsking(null)}
              onReason={async (reason) => {
                const refused = await make((survey, author) => retireFeatureFor(survey, feature.id, reason, author));
                if (refused === null) setAsking(null);
                return refused;
              }}
            />
          )}
          {asking === 'change' && (
            <FeatureForm survey={content.survey} feature={feature} onDone={() => setAsking(null)} />
          )}
        </>
      }
    >
      <Photos survey={content.survey} subject={feature.id} of="feature" />
      {definition && (
        <p>
          {definition.meaning} <span className="quiet">({definition.source})</span>
        </p>
      )}
    </CardFrame>
  );
}

function rowsOf(content: Content, feature: Feature): { term: string; words: string }[] {
  const placed = placeFeature(feature, content.survey.site.local_grids);
  const dimensions = [
    feature.length_m ? `${metres(feature.length_m)} long` : '',
    feature.width_m ? `${metres(feature.width_m)} wide` : '',
    feature.depth_m ? `${metres(feature.depth_m)} deep` : '',
    feature.long_axis_deg === null || feature.long_axis_deg === undefined
      ? ''
      : `long axis ${Math.round(feature.long_axis_deg)}° from north`,
  ].filter((part) => part !== '');
  const consent = feature.owner_consent;
  const origins = (feature.origins ?? []).map(({ from, external_id: number }) =>
    number ? `${from} (${number})` : from,
  );
  const links = (feature.links ?? [])
    .filter(({ kind }) => kind !== 'zone')
    .map(({ kind, target }) => `${kind}: ${target}`);
  const rows: [string, string | null | undefined][] = [
    [
      'Place',
      'sentence' in placed
        ? placed.sentence
        : `${placed.place.lat.toFixed(6)}, ${placed.place.lon.toFixed(6)}${feature.shape === 'point' ? '' : ` (middle of its ${feature.shape})`}; within ${metres(placed.r95M)} (95 % sure)${placed.accuracySaid ? '' : ', taken as for every fix, since nobody said'}`,
    ],
    ['Size', dimensions.join(', ')],
    ['Water', feature.water],
    ['Confidentiality', feature.confidentiality ?? 'no class'],
    [
      'Owner’s consent',
      consent
        ? [CONSENT[consent.given], consent.by, consent.date, consent.note].filter(Boolean).join('; ')
        : 'not said',
    ],
    ['Source', [feature.source, feature.external_id ? `No. ${feature.external_id}` : null].filter(Boolean).join(', ')],
    ['Joined from', origins.join('; ')],
    ['Seen on', feature.observed_at],
    ['Entered on', feature.entered_at],
    ['Why', feature.status_reason],
    [
      'Not the same as',
      (feature.distinct_from ?? [])
        .flatMap((id) => content.survey.features.find((each) => each.id === id) ?? [])
        .map(featureName)
        .join(', '),
    ],
    ['Links', links.join('; ')],
    ['Note', feature.note],
    ['Last change', feature.revised.at ? `${feature.revised.at}, ${feature.revised.by ?? 'unknown'}` : null],
  ];
  return rows.flatMap(([term, words]) => (words ? [{ term, words }] : []));
}
