import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readSurvey } from '../../src/cli/read-survey';
import { surveyText } from '../../src/exchange/write/survey-text';
import { hashOf } from '../../src/survey/hash';
import { everything, madeShare } from '../discretion/made-share';
import { folderWith, runCli } from '../helpers/run-cli';

describe('map --audience', () => {
  const { survey } = madeShare(12);
  const folder = folderWith({ 'a.survey.json': surveyText(everything(survey)) });
  const file = join(folder, 'a.survey.json');
  const map = (out: string, ...more: string[]) => runCli('map', file, '--out', join(folder, out), ...more);

  it('lists what would give a place away, one line each, and writes nothing', async () => {
    const { code, stderr } = await map('out', '--audience', 'planner');
    expect(code).toBe(2);
    expect(stderr).toMatch(/share:line_near:\S+: read "Line .+ “Bluewhistle Cave”\."; expected a decision in --settle/);
    expect(existsSync(join(folder, 'out'))).toBe(false);
  });

  it('writes once every leak is settled, and no file tells the name or the place', async () => {
    const settled: object[] = [];
    for (let round = 0; round < 5; round += 1) {
      const settle = join(folderWith({ 'settle.json': JSON.stringify(settled) }), 'settle.json');
      const ran = await map('out', '--audience', 'planner', '--settle', settle);
      if (ran.code === 0) break;
      const leaks = [...ran.stderr.matchAll(/^share:(\S+): read/gm)].map(([, leak]) => leak);
      expect(leaks.length).toBeGreaterThan(0);
      settled.push(...leaks.map((leak) => ({ leak, decision: 'withhold' })));
    }
    const texts = readdirSync(join(folder, 'out')).map((name) => readFileSync(join(folder, 'out', name), 'utf8'));
    expect(texts.length).toBeGreaterThan(10);
    expect(texts.filter((text) => /bluewhistle/i.test(text))).toEqual([]);
    const about = JSON.parse(readFileSync(join(folder, 'out', 'about.json'), 'utf8'));
    expect(about.audience).toBe('planner');
    // The digest of the whole record would confirm a guess of what was left out of it.
    expect(about.survey_sha256).toMatch(/^[0-9a-f]{64}$/);
    expect(about.survey_sha256).not.toBe(hashOf(readSurvey(file, undefined).survey));
    expect(about.withheld).toContainEqual(
      expect.objectContaining({ subject: 'feature', how: 'generalised', rule: 'bats' }),
    );
    const points = JSON.parse(readFileSync(join(folder, 'out', 'feature_points.geojson'), 'utf8'));
    expect(
      points.features.filter((each: { properties: { type: string } }) => each.properties.type === 'cave_entrance'),
    ).toHaveLength(1);
  });
});
