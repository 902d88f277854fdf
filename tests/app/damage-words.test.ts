import { describe, expect, it } from 'vitest';
import { foundSentence } from '../../src/app/words/damage-words';
import type { Damage } from '../../src/store/rebuild';
import { emptySurvey } from '../helpers/made-survey';

const survey = emptySurvey('Slade');
const found = (what: Damage['what'], count = 1, replaced?: boolean): Damage => ({
  what,
  seq: 1,
  count,
  reason: 'it is not what was written',
  raw: null,
  ...(replaced ? { replaced } : {}),
});
const said = (damage: readonly Damage[], restored = false) => foundSentence({ survey, damage, restored });

describe('what is said of damage', () => {
  it('is nothing where there is none', () => {
    expect(said([])).toBeNull();
  });

  it('tells what is missing, what was set aside and where to get it', () => {
    expect(said([found('change'), found('change'), found('missing_changes', 3)])).toBe(
      'Part of “Slade” is damaged on this device: 2 changes could not be read and were set aside; 3 changes are missing. All other changes are in it. Nothing was deleted: what was set aside can be saved to a file under Hand over.',
    );
    expect(said([found('survey')])).toContain('only what was changed since is shown');
  });

  it('does not frighten where nothing is missing', () => {
    expect(said([found('survey', 1, true)])).toContain('nothing that was saved is missing');
    expect(said([found('change', 1, true)], true)).toContain('second copy stands in for it');
    expect(said([], true)).toContain('Save a copy to a file now');
  });
});
