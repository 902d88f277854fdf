import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import type { Disclosed } from '../../src/discretion/disclose';
import { readPack } from '../../src/exchange/read/pack';
import type { Findings } from '../../src/findings';
import { packed } from '../../src/handover/pack';
import { localPlane } from '../../src/position/crs';
import { makeId } from '../../src/survey/ids';
import type { Feature, Survey } from '../../src/survey/survey';
import { demoContent } from '../app/demo-content';
import { feature, settledShare } from '../discretion/made-share';
import { sql } from './sql';

/*
 * A keeper's pack of the demo is opened again and computed anew. What comes out is what the surveyor found, but for what
 * the keeper is not to know.
 */

const TERMS = { madeAt: '2026-11-25', contact: null, licence: null, title: null };
const demo = demoContent();

async function readBack(disclosed: Disclosed): Promise<Survey> {
  const pack = await packed(disclosed, TERMS, { sql });
  if (!pack.ok) throw new Error(pack.sentence);
  const { survey, notes } = readPack(pack.value.zip, 'pack.zip');
  if (!survey || notes.length > 0) throw new Error(notes.map(({ sentence }) => sentence).join('\n'));
  return survey;
}

/** The demo with features, under a class that a keeper sees so. */
const demoWith = (features: readonly Feature[], keeper: object, more: Partial<Survey> = {}): Survey => ({
  ...demo.survey,
  site: {
    ...demo.survey.site,
    discretion_classes: [
      {
        ...{ name: 'closed', keeper, planner: { show: 'withheld' }, public: { show: 'withheld' } },
        ...{ protect_radius_m: 5, cites: 'invented for a test' },
      },
    ],
    column_mappings: [{ name: 'field.csv' }],
    shares: [{ made_at: '2026-01-01' }],
  },
  features,
  ...more,
});

/** So many metres east and north of the first or last fix of a line of the demo. */
function beside(name: string, end: 0 | -1, eastM: number, northM: number) {
  const control = demo.findings.lines.find((line) => line.name === name)?.controls.at(end);
  if (!control) throw new Error(`the demo has no line ${name}`);
  const { lon, lat } = localPlane(control.lon, control.lat).toLonLat(eastM, northM);
  return { x: lon, y: lat, crs: 'EPSG:4326', accuracy_m: 1, accuracy_level: 95 as const };
}

const closed = (type: string, name: string, place: ReturnType<typeof beside>): Feature =>
  feature(name, place.x, place.y, { type, name, positions: [place], confidentiality: 'closed' });
const cave = closed('cave_entrance', 'Closed Cave', beside('A', -1, 4, 2));
const ponor = closed('ponor', 'Closed Ponor', beside('R3', 0, -9, 25));
const sink = feature('sink', demo.findings.lines[0]?.controls[0]?.lon ?? 0, 37.409, { name: 'Open sink' });

const byName = (findings: Findings) => new Map(findings.lines.map(({ lineId, name }) => [name, lineId]));

describe('a keeper’s pack read back', () => {
  it('where all is shown: the same findings, and the survey without classes, column maps and remembered shares', async () => {
    const survey = demoWith([cave, ponor, sink], { show: 'exact' });
    const { disclosed, leaks } = settledShare(survey, 'keeper', 'withhold');
    expect(leaks).toBe(0);
    const back = await readBack(disclosed);
    const { shares: _, ...site } = survey.site;
    expect(back).toEqual(
      JSON.parse(JSON.stringify({ ...survey, site: { ...site, discretion_classes: [], column_mappings: [] } })),
    );
    expect(appraise(back)).toEqual(appraise(survey));
  });

  it('where what is hidden lies away from the lines: the same findings, all of them', async () => {
    const away = closed('cave_entrance', 'Closed Cave', beside('A', 0, -540, 270));
    const survey = demoWith([away, sink], { show: 'generalised', grid_m: 500 });
    const { disclosed } = settledShare(survey, 'keeper', 'withhold');
    const back = await readBack(disclosed);
    expect(back.features.map(({ name }) => name)).toEqual(['Open sink', null]);
    expect(appraise(back)).toEqual(appraise(survey));
  });

  it('where lines tell of it: the same findings of all that is left', async () => {
    const opening = {
      ...{ id: makeId('surrounding', 'test', 'ponor'), revised: { at: null, by: null, count: 0 } },
      ...{ kind: 'opening' as const, name: 'Closed Ponor', positions: [beside('R3', 0, -9, 25)] },
    };
    const survey = demoWith([cave, ponor, sink], { show: 'withheld' }, { surroundings: [opening] });
    const findings = appraise(survey);
    const { disclosed } = settledShare(survey, 'keeper', 'withhold');
    const back = await readBack(disclosed);
    const again = appraise(back);

    const lines = byName(findings);
    expect([...lines.keys()].filter((name) => !byName(again).has(name))).toEqual(['A']);
    const isLeft = (id: string | null | undefined): boolean => id !== lines.get('A');
    // The opening was left out with the ponor, and so what was said of readings near it.
    expect(findings.doubts.some(({ code, line }) => code === 'near_opening' && isLeft(line))).toBe(true);
    const without = <T extends { readonly doubts: readonly string[] }>(judged: T): T => ({
      ...judged,
      doubts: judged.doubts.filter((code) => code !== 'near_opening'),
    });
    // Zones are numbered anew.
    const zones = findings.zones.filter((zone) => zone.lines.every(isLeft));
    const renamed = zones.map(({ name, paragraph, ...zone }, i) => ({
      ...without(zone),
      name: `Zone ${i + 1}`,
      paragraph: paragraph.replace(name, `Zone ${i + 1}`),
    }));
    expect(renamed.length).toBeGreaterThan(0);
    expect(renamed.length).toBeLessThan(findings.zones.length);
    const { nextReadings, ...rest } = again;
    const { nextReadings: nextBefore, ...before } = findings;
    expect(rest).toEqual({
      ...before,
      lines: before.lines
        .filter(({ lineId }) => isLeft(lineId))
        .map((line) => ({ ...line, midpoints: line.midpoints.map(without) })),
      doubts: before.doubts.filter(({ code, line }) => isLeft(line) && code !== 'near_opening'),
      crossings: before.crossings?.filter((crossing) => crossing.lines.every(isLeft)),
      zones: renamed,
      unusable: before.unusable.filter(({ line }) => isLeft(line)),
    });
    // The few readings that are worth taking are chosen among all zones: with fewer zones each has more of them.
    const left = new Set(zones.map(({ key }) => key));
    expect(nextReadings).toEqual(expect.arrayContaining(nextBefore.filter(({ zone }) => left.has(zone))));
    expect(nextReadings.filter(({ zone }) => !left.has(zone))).toEqual([]);
  });
});
