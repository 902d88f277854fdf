import type { Audience } from '../../src/discretion/audience';
import { asDisclosed, type Disclosed } from '../../src/discretion/disclose';
import { discloseTo } from '../../src/discretion/disclose-to';
import type { Findings, ZoneFinding } from '../../src/findings';
import type { FeatureId } from '../../src/survey/ids';
import type { Feature, Survey } from '../../src/survey/survey';
import { demoContent } from '../app/demo-content';

/*
 * The demo with what it has not: zones of every verdict, a hint and karst features, all made up.
 */

export const TERMS = {
  madeAt: '2026-11-25T12:00:00Z',
  contact: 'Office of Works, Brackamore, 555 0100',
  licence: 'CC BY 4.0',
  title: null,
} as const;

const demo = demoContent();

export function madeSite(said: { names?: string } = {}): { survey: Survey; findings: Findings } {
  const { survey, findings } = demo;
  const [first] = findings.zones;
  const control = findings.lines[0]?.controls[0];
  const two = findings.lines.find(({ hookups }) => hookups.includes('two_probe'));
  if (!first || !control || !two) throw new Error('the demo has other zones and lines');
  const name = (usual: string): string => said.names ?? usual;
  const verdicts = ['unresolved', 'void_like', 'layer_like', 'contact_like'] as const;
  const zones = findings.zones.map((zone, i): ZoneFinding => {
    const verdict = verdicts[i % verdicts.length] as ZoneFinding['verdict'];
    return {
      ...zone,
      name: name(zone.name),
      verdict,
      paragraph: said.names ? `${said.names} ${zone.paragraph}` : zone.paragraph,
      ...(verdict === 'void_like' && {
        basis: 'search' as const,
        searched: true,
        depthM: { best: 2.1, low95: 1.7, high95: 2.6 },
        radiusM: { best: 1, low95: 0.8, high95: 1.3 },
        chanceOfNoVoid: 0.004,
      }),
    };
  });
  const hint: ZoneFinding = {
    ...first,
    key: 'zone:hint',
    name: name('Zone 5'),
    figureKind: 'two_probe',
    footprint: [{ lineId: two.lineId, fromM: 12, toM: 16, halfWidthM: 1.5 }],
    lines: [two.lineId],
    crossings: [],
    midpoints: two.midpoints.slice(60, 66).map(({ key }) => key),
  };
  const feature = (id: string, type: string, dLon: number, dLat: number, more: Partial<Feature> = {}): Feature => ({
    id: id as FeatureId,
    revised: { at: null, by: null, count: 0 },
    type,
    name: name(`Hollow ${id}`),
    status: 'reported',
    shape: 'point',
    positions: [{ x: control.lon + dLon, y: control.lat + dLat, crs: 'EPSG:4326', accuracy_m: 2, accuracy_level: 95 }],
    ...more,
  });
  const features = [
    feature('f1', 'sinkhole_unknown', 0.0004, 0.0001, { length_m: 8, status: 'field_checked' }),
    feature('f2', 'spring', -0.0002, 0.0003),
    feature('f3', 'subsidence_damage', 0.0002, -0.0002),
  ];
  const renamed = said.names ?? null;
  return {
    survey: {
      ...survey,
      site: {
        ...survey.site,
        ...(renamed && { name: renamed, reviewer: renamed, review_status: renamed }),
        setback_rules: [
          { type: 'sinkhole', distance_m: 6, from: 'point', with_uncertainty: true, cites: name('Local code 4.2') },
        ],
      },
      lines: survey.lines.map((line) => (renamed ? { ...line, name: renamed } : line)),
      features,
    },
    findings: {
      ...findings,
      lines: findings.lines.map((line) => (renamed ? { ...line, name: renamed } : line)),
      zones: [...zones, hint],
      doubts: findings.doubts.map((doubt) => (renamed ? { ...doubt, sentence: renamed, remedy: renamed } : doubt)),
    },
  };
}

/** The made site as an audience sees it. */
export function madeShare(audience: Audience, said: { names?: string } = {}): Disclosed {
  const { survey, findings } = madeSite(said);
  if (audience === 'surveyor') return asDisclosed(audience, survey, findings, []);
  const outcome = discloseTo(survey, findings, audience, { settled: [], earlier: [] });
  if (!outcome.ok) throw new Error(outcome.sentence);
  if (outcome.value.kind === 'leaks') throw new Error(JSON.stringify(outcome.value.leaks));
  return outcome.value.disclosed;
}
