import type { Findings } from '../findings';
import { COLLECTIONS } from '../survey/commit';
import { done, type Outcome } from '../survey/outcome';
import type { Survey } from '../survey/survey';
import { type Audience, isOutside } from './audience';
import { classesOf } from './classes';
import { type Cuts, cutsOf } from './cuts';
import { asDisclosed, type Disclosed, disclose, type Withheld } from './disclose';
import { type EarlierShare, shareToRemember } from './earlier-share';
import { fewPlaces, fewPlacesId } from './few-places';
import { withFreshIds } from './fresh-ids';
import { goneLeaks } from './gone-leaks';
import { withKnownKeys } from './known-keys';
import type { Carrier, Leak } from './leak';
import { leaksOf } from './leaks';
import { type Protected, protectedOf } from './protected';
import { redactFindings } from './redact-findings';
import { redactSurvey } from './redact-survey';
import { TAKEN_OUT, withoutTexts } from './scrub';
import { tellingOf } from './telling';
import { whatIsWithheld } from './withheld';

/** What a person decided about a leak, and why. */
export interface Settled {
  readonly leak: string;
  readonly decision: 'withhold' | 'accept';
  readonly why: string;
}

export interface DisclosureTerms {
  readonly settled: readonly Settled[];
  readonly earlier: readonly EarlierShare[];
}

export type Disclosure =
  | { readonly kind: 'disclosed'; readonly disclosed: Disclosed; remember(madeAt: string): EarlierShare }
  /** Leaks that nobody has settled: nothing is to be written. */
  | { readonly kind: 'leaks'; readonly leaks: readonly Leak[] };

/**
 * The survey and its findings as an audience may see them, or what would give a protected place away and has to be settled
 * first. Places are generalised to a fixed grid, never randomised, so that many shares tell no more than one.
 * Refusals: those of `readDiscretionClasses`, and `no_reason` for a leak that was accepted without one.
 */
export function discloseTo(
  survey: Survey,
  findings: Findings,
  audience: Audience,
  { settled, earlier }: DisclosureTerms,
): Outcome<Disclosure> {
  const classes = classesOf(survey);
  if (!classes.ok) return classes;
  const pointless = settled.find(({ decision, why }) => decision === 'accept' && why.trim() === '');
  if (pointless) {
    return {
      ok: false,
      code: 'no_reason',
      sentence: `Say why “${pointless.leak}” is accepted: it is written into the share.`,
    };
  }
  if (audience === 'surveyor') return done(unchanged(survey, findings));
  const decided = new Map(settled.map((each) => [each.leak, each]));
  const byClass = protectedOf(survey, audience, classes.value);
  const telling = tellingOf(byClass);
  const first = asShown(survey, findings, audience, byClass, NO_CUTS);
  const found = leaksOf(first.survey, first.findings, byClass, telling, earlier);
  const withheldLeaks = found.filter(({ id }) => decided.get(id)?.decision === 'withhold');
  const few = byClass.filter(({ feature }) => decided.get(fewPlacesId(feature.id))?.decision === 'withhold');
  const cuts = cutsOf([
    ...withheldLeaks.map(({ carrier }) => carrier),
    ...few.map(({ feature }): Carrier => ({ kind: 'feature', feature: feature.id })),
  ]);
  // What is cut takes its own leaks along, so what is left is looked through anew.
  const isCut = withheldLeaks.length + few.length > 0;
  const hidden = isCut ? protectedOf(survey, audience, classes.value, cuts.features) : byClass;
  const shown = isCut ? asShown(survey, findings, audience, hidden, cuts) : first;
  const classed = new Set(byClass.map(({ feature }) => feature.id));
  const watched = hidden.filter(({ feature }) => classed.has(feature.id));
  const left = isCut ? leaksOf(shown.survey, shown.findings, watched, telling, earlier) : found;
  const open = left.filter(({ id }) => !decided.has(id));
  if (open.length > 0) return done({ kind: 'leaks', leaks: open });
  const accepted = left.filter(({ id }) => decided.get(id)?.decision === 'accept');
  // Whose place is told anyway needs no square.
  const told = new Set(accepted.map(({ feature }) => feature));
  const last = [
    ...fewPlaces(
      shown.survey,
      shown.findings,
      watched.filter(({ feature }) => !told.has(feature.id)),
    ),
    ...goneLeaks(cuts, withheldLeaks, earlier),
  ];
  const stillOpen = last.filter(({ id }) => !decided.has(id));
  if (stillOpen.length > 0) return done({ kind: 'leaks', leaks: stillOpen });

  const scrubbed = withFreshIds(survey, withoutTexts(shown.survey, shown.findings, telling, accepted), audience);
  const untold = ({ rule, reason, ...rest }: Withheld): Withheld => ({
    ...rest,
    rule: telling.tells(rule).length > 0 ? TAKEN_OUT : rule,
    reason: telling.tells(reason).length > 0 ? TAKEN_OUT : reason,
  });
  const withheld = whatIsWithheld(
    survey,
    scrubbed.survey,
    audience,
    hidden,
    cuts,
    [...accepted, ...last].flatMap(({ id, kind }) => {
      const decision = decided.get(id);
      return decision?.decision === 'accept' ? [{ kind, why: decision.why }] : [];
    }),
    unknownKeysIn(survey, isOutside(audience) || hidden.length > 0),
  );
  return done({
    kind: 'disclosed',
    // Classes and reasons are the user's own words, and stand in the share as well.
    disclosed: asDisclosed(audience, scrubbed.survey, scrubbed.findings, withheld.map(untold)),
    remember: (madeAt) => shareToRemember(audience, madeAt, standing(survey.features), hidden, shown.survey.lines),
  });
}

const NO_CUTS: Cuts = cutsOf([]);

interface Shown {
  readonly survey: Survey;
  readonly findings: Findings;
}

function asShown(
  survey: Survey,
  findings: Findings,
  audience: Audience,
  hidden: readonly Protected[],
  cuts: Cuts,
): Shown {
  const shown = redactSurvey(survey, audience, hidden, cuts);
  return { survey: shown, findings: redactFindings(findings, survey, shown, audience, hidden, cuts) };
}

function unchanged(survey: Survey, findings: Findings): Disclosure {
  return {
    kind: 'disclosed',
    disclosed: disclose(survey, findings, 'surveyor'),
    remember: (madeAt) => shareToRemember('surveyor', madeAt, standing(survey.features), [], standing(survey.lines)),
  };
}

const standing = <T extends { readonly retired?: boolean | undefined }>(entities: readonly T[]): readonly T[] =>
  entities.filter(({ retired }) => !retired);

/** How many entities lose keys that this version does not know. */
function unknownKeysIn(survey: Survey, areLost: boolean): number {
  if (!areLost) return 0;
  const known = withKnownKeys(survey);
  if (known === survey) return 0;
  return COLLECTIONS.reduce(
    (sum, name) => sum + survey[name].filter((entity, i) => entity !== known[name][i]).length,
    Number(known.site !== survey.site),
  );
}
