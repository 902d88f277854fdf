import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { surveyText } from '../../src/exchange/write/survey-text';
import { everything, madeShare } from '../discretion/made-share';
import { folderWith, runCli } from '../helpers/run-cli';

describe('share', () => {
  const folder = folderWith({ 'a.survey.json': surveyText(everything(madeShare(12).survey)) });
  const file = join(folder, 'a.survey.json');
  const out = join(folder, 'pack.zip');

  it('lists leaks and writes nothing, then writes once they are settled', async () => {
    const settled: object[] = [];
    const settle = join(folder, 'settle.json');
    let rounds = 0;
    for (; rounds < 6; rounds += 1) {
      writeFileSync(settle, JSON.stringify(settled));
      const ran = await runCli(
        'share',
        file,
        '--audience',
        'planner',
        '--out',
        out,
        '--settle',
        settle,
        '--made-at',
        '2026-11-25',
      );
      if (ran.code === 0) break;
      expect(ran.code).toBe(2);
      expect(readdirSync(folder).sort()).toEqual(['a.survey.json', 'settle.json']);
      const leaks = [...ran.stderr.matchAll(/^share:(\S+): read/gm)].map(([, leak]) => leak);
      expect(leaks.length).toBeGreaterThan(0);
      settled.push(...leaks.map((leak) => ({ leak, decision: 'withhold' })));
    }
    expect(rounds).toBeGreaterThan(0);
    const members = unzipSync(readFileSync(out));
    expect(Object.keys(members)).toContain('page.html');
    for (const bytes of Object.values(members))
      expect(new TextDecoder('latin1').decode(bytes)).not.toMatch(/bluewhistle/i);
    expect(new TextDecoder().decode(members['README.txt'])).toMatch(/LEFT OUT, AND WHY\n {2}\S/);
  });

  it('gives the surveyor a pack that can be opened again', async () => {
    const own = join(folder, 'own.zip');
    const ran = await runCli(
      'share',
      file,
      '--audience',
      'surveyor',
      '--out',
      own,
      '--made-at',
      '2026-11-25',
      '--json',
    );
    expect(ran.code).toBe(0);
    expect(JSON.parse(ran.stdout)).toMatchObject({
      audience: 'surveyor',
      made_at: '2026-11-25',
      withheld: [],
      remember: null,
    });
    const checked = async (path: string) => {
      const { summary, doubts } = JSON.parse((await runCli('check', path, '--json')).stdout);
      return { ...summary, doubts };
    };
    expect(await checked(own)).toEqual(await checked(file));
  });

  it('has no default audience, and never writes over its input', async () => {
    expect(await runCli('share', file, '--out', join(folder, 'b.zip'))).toMatchObject({
      code: 2,
      stderr: expect.stringContaining('--audience'),
    });
    expect((await runCli('share', file, '--audience', 'surveyor', '--out', file)).code).toBe(2);
    expect(existsSync(join(folder, 'b.zip'))).toBe(false);
  });
});
