import type { Findings } from '../findings';
import { done, type Outcome } from '../survey/outcome';
import type { Survey } from '../survey/survey';
import { type Audience, isOutside } from './audience';
import { classesOf } from './classes';
import type { Cuts } from './cuts';
import { asDisclosed, type Disclosed, type Withheld } from './disclose';
import { type EarlierShare, shareToRemember } from './earlier-share';
import type { Carrier, Leak } from './leak';
import { leaksOf } from './leaks';
import { protectedOf } from './protected';
import { redactFindings } from './redact-findings';
import { redactSurvey } from './redact-survey';
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
  const all = protectedOf(survey, audience, classes.value);
  const leaks = leaksOf(survey, findings, audience, all, earlier);
  const decided = new Map(settled.map((each) => [each.leak, each]));
  const cuts = cutsOf(leaks.filter(({ id }) => decided.get(id)?.decision === 'withhold').map(({ carrier }) => carrier));
  // What is cut takes its own leaks along.
  const open = leaks.filter((leak) => !decided.has(leak.id) && !isCut(leak.carrier, cuts));
  if (open.length > 0) return done({ kind: 'leaks', leaks: open });
  const hidden = protectedOf(survey, audience, classes.value, cuts.features);
  const shown = redactSurvey(survey, audience, hidden, cuts);
  const withheld: readonly Withheld[] = whatIsWithheld(
    survey,
    shown,
    audience,
    hidden,
    cuts,
    leaks.flatMap(({ id, kind }) => {
      const decision = decided.get(id);
      return decision?.decision === 'accept' ? [{ kind, why: decision.why }] : [];
    }),
    isOutside(audience),
  );
  const disclosed = asDisclosed(audience, shown, redactFindings(findings, shown, audience, hidden, cuts), withheld);
  return done({
    kind: 'disclosed',
    disclosed,
    remember: (madeAt) =>
      shareToRemember(
        audience,
        madeAt,
        survey.features.filter(({ retired }) => !retired),
        hidden,
      ),
  });
}

function cutsOf(carriers: readonly Carrier[]): Cuts {
  const cuts = {
    lines: new Set<Cuts['lines'] extends ReadonlySet<infer T> ? T : never>(),
    zones: new Set<string>(),
    features: new Set<Cuts['features'] extends ReadonlySet<infer T> ? T : never>(),
    surroundings: new Set<string>(),
    remotes: new Set<Cuts['remotes'] extends ReadonlySet<infer T> ? T : never>(),
    texts: new Set<string>(),
    grids: false,
  };
  for (const carrier of carriers) {
    if (carrier.kind === 'line') cuts.lines.add(carrier.line);
    else if (carrier.kind === 'zone') cuts.zones.add(carrier.zone);
    else if (carrier.kind === 'feature') cuts.features.add(carrier.feature);
    else if (carrier.kind === 'surrounding') cuts.surroundings.add(carrier.surrounding);
    else if (carrier.kind === 'remotes') cuts.remotes.add(carrier.outing);
    else if (carrier.kind === 'text') cuts.texts.add(carrier.text);
    else cuts.grids = true;
  }
  return cuts;
}

function isCut(carrier: Carrier, cuts: Cuts): boolean {
  if (carrier.kind === 'line') return cuts.lines.has(carrier.line);
  if (carrier.kind === 'zone') return cuts.zones.has(carrier.zone);
  if (carrier.kind === 'feature') return cuts.features.has(carrier.feature);
  if (carrier.kind === 'surrounding') return cuts.surroundings.has(carrier.surrounding);
  if (carrier.kind === 'remotes') return cuts.remotes.has(carrier.outing);
  if (carrier.kind === 'grids') return cuts.grids;
  const line = carrier.text.startsWith('line:') ? carrier.text.slice(5) : null;
  return cuts.texts.has(carrier.text) || (line !== null && [...cuts.lines].some((id) => id === line));
}
