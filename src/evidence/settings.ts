import * as z from 'zod/mini';
import type { Settings } from '../findings';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { Site } from '../survey/survey';

/**
 * What is used unless the user says otherwise.
 * The floor of 3 %, the rim distance and the ratio breaks are this project's choice; repeatability in the field is rarely better than
 * 3–5 % (common practice, no source).
 */
export const DEFAULT_SETTINGS: Settings = {
  depthRule: 'median',
  standardErrorFloor: 0.03,
  zThreshold: 2,
  ratioBreaks: [1.1, 1.25, 1.6],
  ratioBreaksTwoProbe: [1.5, 2, 4],
  medianStations: 5,
  falseDiscoveryRate: 0.1,
  falseDiscoveryMethod: 'benjamini_hochberg',
  takeOutLevel: true,
  target: { radiusM: 2, depthToCentreM: 3 },
  rimDistanceM: 10,
};

const positive = z.number().check(z.positive());
const breaks = z
  .tuple([positive, positive, positive])
  .check(
    z.refine(
      ([slight, clear, strong]) => 1 < slight && slight < clear && clear < strong,
      'breaks have to grow from above 1',
    ),
  );

/** `site.settings` of the record. */
const siteSettings = z.looseObject({
  depth_rule: z.optional(z.enum(['median', 'half_spacing'])),
  standard_error_floor: z.optional(positive),
  z_threshold: z.optional(positive),
  ratio_breaks: z.optional(breaks),
  ratio_breaks_two_probe: z.optional(breaks),
  median_stations: z.optional(z.int().check(z.positive())),
  false_discovery_rate: z.optional(z.number().check(z.positive(), z.lte(1))),
  false_discovery_method: z.optional(z.enum(['benjamini_hochberg', 'benjamini_yekutieli'])),
  take_out_level: z.optional(z.boolean()),
  target_radius_m: z.optional(positive),
  target_depth_m: z.optional(positive),
  rim_distance_m: z.optional(positive),
});

/** The settings of a site, the rest by default. Refusal: `bad_settings`, with the key. */
export function settingsOf(site: Site): Outcome<Settings> {
  const parsed = siteSettings.safeParse(site.settings ?? {});
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    return refuse(
      'bad_settings',
      `The site's setting ${issue?.path.join('.') ?? ''} cannot be used: ${issue?.message ?? ''}.`,
    );
  }
  const said = parsed.data;
  const by = DEFAULT_SETTINGS;
  return done({
    depthRule: said.depth_rule ?? by.depthRule,
    standardErrorFloor: said.standard_error_floor ?? by.standardErrorFloor,
    zThreshold: said.z_threshold ?? by.zThreshold,
    ratioBreaks: said.ratio_breaks ?? by.ratioBreaks,
    ratioBreaksTwoProbe: said.ratio_breaks_two_probe ?? by.ratioBreaksTwoProbe,
    medianStations: said.median_stations ?? by.medianStations,
    falseDiscoveryRate: said.false_discovery_rate ?? by.falseDiscoveryRate,
    falseDiscoveryMethod: said.false_discovery_method ?? by.falseDiscoveryMethod,
    takeOutLevel: said.take_out_level ?? by.takeOutLevel,
    target: {
      radiusM: said.target_radius_m ?? by.target.radiusM,
      depthToCentreM: said.target_depth_m ?? by.target.depthToCentreM,
    },
    rimDistanceM: said.rim_distance_m ?? by.rimDistanceM,
  });
}

/** The settings as every output names them. */
export function settingsAsWritten(settings: Settings): Record<string, unknown> {
  return {
    depth_rule: settings.depthRule,
    standard_error_floor: settings.standardErrorFloor,
    z_threshold: settings.zThreshold,
    ratio_breaks: settings.ratioBreaks,
    ratio_breaks_two_probe: settings.ratioBreaksTwoProbe,
    median_stations: settings.medianStations,
    false_discovery_rate: settings.falseDiscoveryRate,
    false_discovery_method: settings.falseDiscoveryMethod,
    take_out_level: settings.takeOutLevel,
    target_radius_m: settings.target.radiusM,
    target_depth_m: settings.target.depthToCentreM,
    rim_distance_m: settings.rimDistanceM,
  };
}
