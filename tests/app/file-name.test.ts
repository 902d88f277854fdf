import { describe, expect, it } from 'vitest';
import { fileNameFrom } from '../../src/app/words/file-name';

describe('the name of a file', () => {
  it('is plain whatever its parts are called', () => {
    expect(fileNameFrom(['ladder', 'C', '14.5 m'], 'svg')).toBe('ladder-c-14_5-m.svg');
    expect(fileNameFrom(['profile', '../../etc <b>Höhe</b>'], 'svg')).toBe('profile-etc-b-hohe-b.svg');
    expect(fileNameFrom(['…'], 'svg')).toBe('figure.svg');
  });
});
