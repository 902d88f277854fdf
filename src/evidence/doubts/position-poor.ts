import { radius95M, UNSAID_R95_M } from '../../position/accuracy';
import { metres } from '../../survey/wording';
import { doubtAbout, type FindDoubts } from './doubt-context';

/** A phone in the open is within about 5 m (Tomastik et al. 2017: RMSE 1.9–2.4 m, so 95 % within 3.3–4.1 m). */
const POOR_R95_M = 5;

export const positionPoor: FindDoubts = (context) => [...unsure(context), ...withoutLegs(context)];

/** Legs that say nothing without a date or a grid. */
const withoutLegs: FindDoubts = ({ line, placed }) =>
  (placed.ok ? placed.track.unusedLegs : []).map((sentence, i) =>
    doubtAbout({
      code: 'position_poor',
      severity: 'warning',
      line: line.id,
      aspect: `leg ${i}`,
      sentence: `Line ${line.name} is placed without ${sentence}`,
      remedy: 'Add what is missing, or place both ends of the leg.',
    }),
  );

const unsure: FindDoubts = ({ line, placed, figures }) => {
  if (!placed.ok) return [];
  const { accuracies, controls, bends, fromM, toM, placeAt } = placed.track;
  const unsaid = accuracies.filter(({ said }) => !said).length;
  const used = figures.map(({ chainageM }) => chainageM);
  // Far beyond the placed points a line is less sure than its points are.
  const reach = [
    used.reduce((least, m) => Math.min(least, m), fromM),
    used.reduce((most, m) => Math.max(most, m), toM),
  ];
  const along = [...reach, fromM, ...(controls.length > 0 ? bends : []), toM];
  const fitted = along.map((chainageM) => placeAt(chainageM).uncertainty95M);
  // A line through its readings' own places is as sure as they are: nothing else holds it.
  const own = controls.length > 0 ? [] : accuracies.map(({ sigmaM }) => radius95M(sigmaM));
  const worst = [...fitted, ...own].reduce((most, radiusM) => Math.max(most, radiusM), 0);
  if (unsaid === 0 && worst <= POOR_R95_M) return [];
  const assumed = `${unsaid} of ${accuracies.length} placed points do not say how accurate they are: 95 % within ${metres(UNSAID_R95_M)} was assumed`;
  return [
    doubtAbout({
      code: 'position_poor',
      severity: worst > UNSAID_R95_M ? 'warning' : unsaid > 0 ? 'note' : 'warning',
      line: line.id,
      sentence: `Line ${line.name} is placed to ${metres(Math.round(worst * 10) / 10)} only (95 %).${unsaid > 0 ? ` ${assumed}.` : ''}`,
      remedy:
        'Write down the accuracy that the device showed. Average for some minutes in the open at both ends, or tie the line by tape to something on the map.',
      readings: figures.map(({ reading }) => reading.id),
    }),
  ];
};
