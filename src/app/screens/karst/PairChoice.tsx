import { useState } from 'react';
import { joinFeatures } from '../../../karst/feature-edits';
import { featureName, STATUS_WORDS, typeWords } from '../../../karst/feature-words';
import { keepApart } from '../../../karst/keep-apart';
import type { LikelyPair } from '../../../karst/match';
import { placeFeature } from '../../../karst/placed';
import type { Feature, Survey } from '../../../survey/survey';
import { metres } from '../../../survey/wording';
import { useEdit } from '../record/use-edit';
import { SymbolView } from './SymbolView';

interface PairChoiceProps {
  readonly survey: Survey;
  readonly pair: LikelyPair;
  readonly first: Feature;
  readonly second: Feature;
  readonly onOpen: (id: Feature['id']) => void;
}

/** Two features beside each other, and what they are said to be: two, or one under the first or the second. */
export function PairChoice({ survey, pair, first, second, onOpen }: PairChoiceProps) {
  const make = useEdit();
  const [refused, setRefused] = useState<string | null>(null);
  const join = (keep: Feature, other: Feature): void => {
    void make((now, author) => joinFeatures(now, keep.id, [other.id], missing(keep, other), author)).then(setRefused);
  };
  const keepBoth = (): void => {
    void make((now, author) => keepApart(now, first.id, second.id, author)).then(setRefused);
  };
  const sides = [first, second].map((feature) => sideOf(survey, feature));
  const rows = ['Type', 'Status', 'Source', 'Accuracy', 'Size', 'Class', 'Seen on', 'Note'] as const;
  return (
    <>
      <p>
        {metres(pair.distanceM)} apart; {pair.grade} (both accuracies together allow {metres(pair.withinM)}).
      </p>
      <table className="karst-pair">
        <thead>
          <tr>
            <td />
            {[first, second].map((feature, i) => (
              <th key={feature.id} scope="col">
                <SymbolView type={feature.type} rejected={feature.status === 'rejected'} />{' '}
                <button type="button" className="cell-button" onClick={() => onOpen(feature.id)}>
                  {i + 1}. {featureName(feature)}
                </button>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows
            .filter((row) => sides.some((side) => side[row] !== ''))
            .map((row) => (
              <tr key={row}>
                <th scope="row">{row}</th>
                {sides.map((side, i) => (
                  // biome-ignore lint/suspicious/noArrayIndexKey: the first and the second
                  <td key={i}>{side[row] || 'not said'}</td>
                ))}
              </tr>
            ))}
        </tbody>
      </table>
      {refused && <p role="alert">{refused}</p>}
      <div className="karst-buttons">
        <button type="button" className="line-button" onClick={keepBoth}>
          Keep both
        </button>
        <button type="button" className="line-button" onClick={() => join(first, second)}>
          Both are the first
        </button>
        <button type="button" className="line-button" onClick={() => join(second, first)}>
          Both are the second
        </button>
      </div>
    </>
  );
}

const FILLED = [
  'name',
  'length_m',
  'width_m',
  'depth_m',
  'long_axis_deg',
  'water',
  'external_id',
  'confidentiality',
  'owner_consent',
  'observed_at',
  'note',
] as const;

/** What the one that stays does not say and the other does: nothing that was known is lost by joining. */
function missing(keep: Feature, other: Feature): Partial<Feature> {
  const filled: Record<string, unknown> = {};
  for (const field of FILLED) {
    const [own, theirs] = [keep[field], other[field]];
    if ((own === null || own === undefined) && theirs !== null && theirs !== undefined) filled[field] = theirs;
  }
  return filled as Partial<Feature>;
}

function sideOf(survey: Survey, feature: Feature) {
  const placed = placeFeature(feature, survey.site.local_grids);
  const size = [feature.length_m, feature.width_m, feature.depth_m].map((each) => (each ? metres(each) : '?'));
  return {
    Type: typeWords(feature.type),
    Status: STATUS_WORDS[feature.status],
    Source: [feature.source, feature.external_id].filter(Boolean).join(', '),
    Accuracy: 'sentence' in placed ? 'no place' : `${metres(placed.r95M)}${placed.accuracySaid ? '' : ' (not said)'}`,
    Size: size.every((each) => each === '?') ? '' : size.join(' × '),
    Class: feature.confidentiality ?? '',
    'Seen on': feature.observed_at ?? '',
    Note: feature.note && feature.note.length > 120 ? `${feature.note.slice(0, 119)}…` : (feature.note ?? ''),
  };
}
