import * as z from 'zod/mini';
import type { FeatureId, LineId } from '../survey/ids';
import type { Survey } from '../survey/survey';
import { AUDIENCES, type Audience } from './audience';
import type { Protected } from './protected';

const earlierShare = z.looseObject({
  made_at: z.string(),
  audience: z.enum(AUDIENCES),
  /** Lines that it held. */
  lines: z.optional(z.array(z.string())),
  /** How each protected feature was shown; the cells are those of `grid.ts`. */
  shown: z.array(
    z.looseObject({
      feature: z.string(),
      show: z.enum(['exact', 'generalised', 'withheld']),
      grid_m: z.nullable(z.number()),
      row: z.nullable(z.number()),
      column: z.nullable(z.number()),
    }),
  ),
});

/** What is remembered of a share, so that the next one does not tell more together with it. Never part of a share. */
export type EarlierShare = z.infer<typeof earlierShare>;

/** The shares that a survey remembers; what is not readable is left out. */
export function earlierSharesOf({ site }: Survey): readonly EarlierShare[] {
  return (site.shares ?? []).flatMap((share) => {
    const read = earlierShare.safeParse(share);
    return read.success ? [read.data] : [];
  });
}

/** What to remember of a share: how each feature of the survey was shown, and which lines were in it. */
export function shareToRemember(
  audience: Audience,
  madeAt: string,
  features: readonly { readonly id: FeatureId }[],
  hidden: readonly Protected[],
  lines: readonly { readonly id: LineId }[],
): EarlierShare {
  const byId = new Map<string, Protected>(hidden.map((each) => [each.feature.id, each]));
  return {
    made_at: madeAt,
    audience,
    lines: lines.map(({ id }) => id),
    shown: features.map(({ id }) => {
      const own = byId.get(id);
      const cell = own?.cell ?? null;
      const show = own ? (cell ? ('generalised' as const) : ('withheld' as const)) : ('exact' as const);
      return { feature: id, show, grid_m: cell?.gridM ?? null, row: cell?.row ?? null, column: cell?.column ?? null };
    }),
  };
}
