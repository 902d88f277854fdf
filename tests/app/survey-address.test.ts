import { describe, expect, it } from 'vitest';
import { fileName, surveyAddress } from '../../src/app/survey-address';

const page = 'http://127.0.0.1:4173/sub/';
const address = (search: string) => {
  const found = surveyAddress(`${page}${search}`, './assets/demo.survey.json');
  return found.ok ? found.value.href : found.code;
};

describe('the survey that a page opens', () => {
  it('is the one that it brings along, when none is asked for', () => {
    expect(address('')).toBe('http://127.0.0.1:4173/sub/assets/demo.survey.json');
    expect(address('?survey=')).toBe('http://127.0.0.1:4173/sub/assets/demo.survey.json');
  });

  it('is the one at the path that was asked for', () => {
    expect(address('?survey=survey.json')).toBe('http://127.0.0.1:4173/sub/survey.json');
    expect(address('?survey=/my%20site.survey.json')).toBe('http://127.0.0.1:4173/my%20site.survey.json');
  });

  it('is refused from any other address', () => {
    for (const elsewhere of [
      'https://elsewhere.example/s.json',
      '//elsewhere.example/s.json',
      'data:,{}',
      'file:///s',
    ]) {
      expect(address(`?survey=${encodeURIComponent(elsewhere)}`)).toBe('survey_elsewhere');
    }
    expect(address('?survey=http%3A%2F%2F')).toBe('survey_address_unreadable');
  });

  it('is called by the last step of its path', () => {
    expect(fileName(new URL('http://x/a/my%20site.survey.json?y'))).toBe('my site.survey.json');
    expect(fileName(new URL('http://x/'))).toBe('survey.json');
  });
});
