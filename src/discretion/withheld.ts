import type { Survey } from '../survey/survey';
import { type Audience, isOutside } from './audience';
import type { Cuts } from './cuts';
import type { Withheld } from './disclose';
import type { LeakKind } from './leak';
import type { Protected } from './protected';

/** What a share does not hold, counted by what decided: for the share itself, so it names nothing. */
export function whatIsWithheld(
  survey: Survey,
  shown: Survey,
  audience: Audience,
  hidden: readonly Protected[],
  cuts: Cuts,
  accepted: readonly { readonly kind: LeakKind; readonly why: string }[],
  unknownKeys: number,
): readonly Withheld[] {
  if (audience === 'surveyor') return [];
  const outside = isOutside(audience);
  const list: Withheld[] = [];
  const byRule = new Map<string, { count: number; each: Protected }>();
  for (const each of hidden) {
    if (each.feature.retired) continue;
    const key = `${each.rule}|${each.showing.show}|${each.cell?.gridM ?? ''}`;
    const known = byRule.get(key);
    if (known) known.count += 1;
    else byRule.set(key, { count: 1, each });
  }
  for (const { count, each } of byRule.values()) {
    list.push({
      subject: 'feature',
      count,
      how: each.cell ? 'generalised' : 'withheld',
      gridM: each.cell?.gridM ?? null,
      rule: each.rule,
      reason: each.reason,
    });
  }
  const cut = (subject: Withheld['subject'], count: number, rule: string, reason: string): void => {
    if (count > 0) list.push({ subject, count, how: 'withheld', gridM: null, rule, reason });
  };
  const near = 'it would have told where a protected place is';
  cut('line', cuts.lines.size, 'leak check', near);
  cut('reading', living(survey.readings).length - living(shown.readings).length, 'leak check', near);
  cut('zone', cuts.zones.size, 'leak check', near);
  cut('remote', cuts.remotes.size, 'leak check', near);
  cut('name', cuts.texts.size, 'leak check', near);
  cut(
    'note',
    unknownKeys,
    outside ? `audience ${audience}` : 'leak check',
    'what this program cannot read it cannot check',
  );
  if (outside) {
    const rule = `audience ${audience}`;
    cut('person', new Set(survey.outings.flatMap(({ people }) => people)).size, rule, 'not needed to use the results');
    cut('photo', living(survey.photos).length, rule, 'pictures tell more than they show');
    const notes = [
      survey.site.notes,
      ...survey.readings.map(({ note }) => note),
      ...survey.features.map(({ note }) => note),
    ];
    cut('note', notes.filter(Boolean).length, rule, 'notes are the surveyor’s own');
    cut(
      'surrounding',
      living(survey.surroundings).length - shown.surroundings.length,
      rule,
      'openings are told by class only',
    );
    cut(
      'time',
      survey.readings.filter(({ time }) => (time ?? '').length > 10).length,
      rule,
      'days are told, not hours',
    );
  } else {
    cut('surrounding', cuts.surroundings.size, 'leak check', near);
    cut('photo', survey.photos.length - shown.photos.length, 'leak check', near);
  }
  for (const { kind, why } of accepted) {
    list.push({ subject: subjectOf(kind), count: 1, how: 'accepted', gridM: null, rule: 'leak check', reason: why });
  }
  return list;
}

const living = <T extends { readonly retired?: boolean | undefined }>(entities: readonly T[]): readonly T[] =>
  entities.filter(({ retired }) => !retired);

function subjectOf(kind: LeakKind): Withheld['subject'] {
  if (kind === 'line_near' || kind === 'gone') return 'line';
  if (kind === 'zone_round') return 'zone';
  if (kind === 'remote_near') return 'remote';
  if (kind === 'named') return 'name';
  if (kind === 'surrounding_near') return 'surrounding';
  return 'feature';
}
