import type { Ranged } from '../ground/layered-inversion';
import type { ProfiledRange } from '../ground/void-grid';
import type { VoidTest } from '../ground/void-test';
import { chainageList, metres, ohmMetres, ratioText, significant } from '../survey/wording';
import type { SoundingResult } from './sounding';
import type { ContactWord } from './sounding-contact';

/** What a ladder can say, in plain sentences, in the order that a person asks. */
export interface SoundingTold {
  readonly contact: readonly string[];
  readonly layers: readonly string[];
  readonly void: readonly string[];
}

/** What the study takes for granted; said wherever its results are. */
export const SOUNDING_ASSUMPTIONS: readonly string[] = [
  'Flat ground, electrodes as points on it, remotes infinitely far in the models (the readings are reckoned with their real places where these are known).',
  'Layers: flat, even, one to four of them, as if there were no void.',
  'Void: filled with air, a round chamber or a round, straight, level passage right under the line, at any of four bearings.',
  'The void is computed in uniform ground and put on top of the reference’s own ladder: an approximation, rough where the void comes near the soil.',
  'The level of the whole ladder is left free, and soil is taken to be uneven by 15 % over 5 m: both widen the ranges.',
  'Ground that conducts better, such as clay, is tried as a body of a tenth of the host’s resistivity, to first order.',
  'Ranges are everything that the readings do not exclude with 95 %, within the bounds tried; one ladder sets wide ones. The value before a void’s range is the middle of what fits, not the best fit.',
];

export function soundingWords(result: SoundingResult): SoundingTold {
  return { contact: contactWords(result), layers: layerWords(result), void: voidWords(result) };
}

const VERDICT_WORDS: Readonly<Record<ContactWord, string>> = {
  mostly_contact: 'Mostly contact.',
  part_contact: 'Partly contact.',
  little_contact: 'Little contact.',
  hardly_felt: 'Contact is hardly felt.',
  cannot_tell: 'How much is contact cannot be told.',
};

const percent = (share: number): string => `${Math.round(100 * share)} %`;

function contactWords({ contact, seatings, follows }: SoundingResult): string[] {
  const { verdict, share, low95, high95, bySpacing, sentence } = contact;
  const told = [VERDICT_WORDS[verdict]];
  if (share !== null && low95 !== null && high95 !== null) {
    const at = bySpacing[bySpacing.length >> 1]?.spacingM;
    const where = at === undefined ? '' : ` at ${metres(at)}`;
    told.push(
      `Contact makes ${percent(share)} of the reading${where} (95 %: ${percent(low95)} to ${percent(high95)}).`,
    );
  }
  told.push(sentence);
  for (const { seating, known, contactOhm, sigmaOhm } of seatings) {
    if (contactOhm === null || sigmaOhm === null) continue;
    const value = `${significant(contactOhm, 3)} ± ${significant(2 * sigmaOhm, 2)} Ω`.replace('-', '−');
    told.push(
      `Rod ${seating}: ${value}${known === 'fixed' ? '' : ' against the mean of the rods it can be compared with'}.`,
    );
  }
  if (follows) told.push(followsWords(follows));
  return told;
}

function followsWords({ verdict, cause, chainageM, seating, ratio }: NonNullable<SoundingResult['follows']>): string {
  if (verdict === 'none')
    return 'Along this line no probe and no midpoint stands out from its neighbours in all its readings.';
  if (chainageM === null || ratio === null) {
    return 'Whether the strongest change along this line goes with a probe or with a midpoint cannot be told.';
  }
  const times = `${ratioText(ratio)} times the rest`;
  if (verdict === 'midpoint') {
    return `The strongest change along this line stays with the midpoint at ${metres(chainageM)} (${times}).`;
  }
  const what =
    cause === 'seating'
      ? `one driving of the rod there${seating === null ? '' : ` (${seating})`}: contact; drive it anew`
      : cause === 'site'
        ? 'the place through other drivings: ground about the probe'
        : 'the rod or its place; one more driving would tell';
  return `The strongest change along this line goes with the probe at ${metres(chainageM)} (${times}), with ${what}.`;
}

function rangeWords({ value, low95, high95, openLow, openHigh }: Ranged, words: (value: number) => string): string {
  if (openLow && openHigh) return `${words(value)} (not limited by the readings)`;
  if (openLow) return `${words(value)} (up to ${words(high95)})`;
  if (openHigh) return `${words(value)} (${words(low95)} or more)`;
  return `${words(value)} (${words(low95)} to ${words(high95)})`;
}

const thick = (value: number): string => `${significant(value, 2)} m`;

function layerWords({ layers: { reason, model, explains }, void: { verdict } }: SoundingResult): string[] {
  if (!model) return [reason ?? 'There are no layers to show.'];
  const told = model.resistivities.map((resistivity, i) => {
    const thickness = model.thicknesses[i];
    const depth = thickness ? `, ${rangeWords(thickness, thick)} thick` : model.layers === 1 ? '' : ', down from there';
    const name = model.layers === 1 ? 'Uniform ground' : `Layer ${i + 1}`;
    return `${name}: ${rangeWords(resistivity, ohmMetres)}${depth}.`;
  });
  told.push(...model.equivalences.map(({ sentence }) => sentence));
  if (verdict === 'void_like') {
    told.push('These layers are fitted as if there were no void; a void explains this ladder better.');
  }
  if (!explains) {
    told.push(
      `Flat layers do not explain this ladder: what is left is ${model.misfit.toFixed(1)} times its errors. Do not rely on this model.`,
    );
  }
  return told;
}

function voidWords({ void: { reason, test }, overRangeM }: SoundingResult): string[] {
  const told = [...(reason === null ? [] : [reason]), ...(test ? testWords(test) : [])];
  if (overRangeM.length > 0) {
    told.push(`Not counted, because the meter went over range: spacing ${chainageList(overRangeM)}.`);
  }
  return told;
}

function testWords(test: VoidTest): string[] {
  const told = [test.sentence];
  if (test.verdict === 'layer_like' && test.thicknessFactor !== null) {
    told.push(`The uppermost layer would be ${ratioText(test.thicknessFactor)} times as thick as at the reference.`);
  }
  if (showsVoid(test)) {
    const { tried, depthM, radiusM, offsetM } = test.best;
    const [what, where] = tried.kind === 'chamber' ? ['chamber', 'centre'] : ['passage', 'axis'];
    told.push(
      `If it is a void, a ${what} fits best, and what fits about as well has its ${where} ${profiled(depthM)} below ground, radius ${profiled(radiusM)}, ${profiled(offsetM)} from the midpoint along the line.`,
      `Criterion against the best other cause: ${test.deltaCriterion.toFixed(1).replace('-', '−')} (below −4 it has clearly more support).`,
    );
  }
  return told;
}

/** Whether a void is in question, so that its depth and size are worth telling. */
export const showsVoid = ({ verdict, criteria }: VoidTest): boolean =>
  verdict === 'void_like' || (verdict === 'unresolved' && criteria.void < criteria.none);

function profiled({ middle, low95, high95, openLow, openHigh }: ProfiledRange): string {
  const ends = [openLow && low95 > 0 ? 'less than ' : '', openHigh ? ' or more' : ''];
  return `${significant(middle, 2)} m (95 %: ${ends[0]}${significant(low95, 2)} to ${significant(high95, 2)} m${ends[1]})`;
}
