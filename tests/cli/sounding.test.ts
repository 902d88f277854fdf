import { describe, expect, it } from 'vitest';
import { runCli } from '../helpers/run-cli';

describe('hollowline sounding', () => {
  it('answers by the contract for a ladder over the passage', async () => {
    const ran = await runCli('sounding', 'demo-data', '--line', 'A', '--at', '19', '--json');
    expect(ran).toMatchObject({ code: 0, stderr: '' });
    const document = JSON.parse(ran.stdout);
    expect(document).toMatchObject({
      line: 'A',
      chainage_m: 19,
      hookup: 'pole_pole',
      contact: { verdict: expect.any(String), share: expect.any(Number) },
      layers: { reason: null },
      void: { verdict: expect.any(String), delta_criterion: expect.any(Number) },
    });
    for (const layer of document.layers.model) {
      expect(layer.resistivity_low_95).toBeLessThanOrEqual(layer.resistivity_ohm_m);
      expect(layer.resistivity_high_95).toBeGreaterThanOrEqual(layer.resistivity_ohm_m);
    }
    expect(document.layers.model[document.layers.model.length - 1].thickness_m).toBeNull();
    expect(document.void.depth_low_95_m).toBeLessThan(document.void.depth_high_95_m);
  });

  it('gives the share of contact with its range where nothing else is needed', async () => {
    const ran = await runCli('sounding', 'demo-data', '--line', 'D', '--at', '18', '--json');
    const { contact } = JSON.parse(ran.stdout);
    // The pole-pole readings of the demo are made without contact: its share may be open upwards, but not away from 0.
    expect(['little_contact', 'cannot_tell']).toContain(contact.verdict);
    expect(contact.share_low_95).toBe(0);
    expect(contact.share_high_95).toBeLessThan(0.4);
    expect(contact.share_low_95).toBeLessThanOrEqual(contact.share);
    expect(contact.share_high_95).toBeGreaterThanOrEqual(contact.share);
  });

  it('answers a two-probe ladder with contact, and with reasons in the place of layers and void', async () => {
    const ran = await runCli('sounding', 'demo-data', '--line', 'T', '--at', '18', '--json');
    const document = JSON.parse(ran.stdout);
    expect(document.contact.verdict).toBe('mostly_contact');
    expect(document.layers).toMatchObject({ model: null, reason: expect.stringContaining('two probes') });
    expect(document.void).toMatchObject({
      verdict: null,
      depth_m: null,
      depth_low_95_m: null,
      depth_high_95_m: null,
      radius_m: null,
      delta_criterion: null,
      reason: expect.stringContaining('contact'),
    });
  });

  it('says it in plain sentences with units and with what it takes for granted', async () => {
    const ran = await runCli('sounding', 'demo-data/survey-form', '--line', 'D', '--at', '18');
    expect(ran.code).toBe(0);
    expect(ran.stdout).toMatch(/Line D at 18 m, pole-pole, spacings 1, 2, 3, 5, 8, 12 m\./);
    expect(ran.stdout).toMatch(/Layer 1: \d+ Ω·m/);
    expect(ran.stdout).toContain('Assumptions');
    expect(ran.stderr).toBe('');
  });

  it.each([
    [['--line', 'A', '--at', '18.4'], '--at', '17, 18, 19 m'],
    [['--line', 'Q', '--at', '18'], '--line', 'Lines: A, B'],
    [['--line', 'A'], '--at', 'a chainage in metres'],
    [['--at', '18'], '--line', 'the name of a line'],
    [['--line', 'A', '--at', '18', '--hookup', 'five'], '--hookup', 'one of two_probe'],
  ])('refuses %j in one line that says what to do', async (args, option, expected) => {
    const ran = await runCli('sounding', 'demo-data', ...args);
    expect(ran.code).toBe(2);
    expect(ran.stdout).toBe('');
    expect(ran.stderr.trim().split('\n')).toHaveLength(1);
    expect(ran.stderr).toContain(`arguments:1:${option}:`);
    expect(ran.stderr).toContain(expected);
  });

  it('has help with an example, every assumption and the cautions', async () => {
    const { stdout } = await runCli('sounding', '--help');
    for (const word of ['Example:', 'Flat ground', 'uniform ground', 'filled with air', 'Cautions']) {
      expect(stdout).toContain(word);
    }
  });
});
