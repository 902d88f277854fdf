import { describe, expect, it } from 'vitest';
import { rimsOf } from '../../src/evidence/rims';
import { thingsOf } from '../../src/evidence/surroundings';
import { demoContent } from '../app/demo-content';
import { feature } from '../discretion/made-share';

const { survey } = demoContent();
const withFeature = (said: object) => ({
  ...survey,
  surroundings: [],
  features: [feature('sink', -91.5, 37.4, said)],
});

describe('A feature that a share shows by the middle of a square', () => {
  const here = withFeature({ name: 'Sink' });
  const generalised = withFeature({ name: 'Sink', generalised_grid_m: 500 });

  it('is no opening beside a line: it lies somewhere else', () => {
    expect(thingsOf(here)).toHaveLength(1);
    expect(thingsOf(generalised)).toHaveLength(0);
  });

  it('keeps nobody off that middle', () => {
    expect(rimsOf(here, 10)).toHaveLength(1);
    expect(rimsOf(generalised, 10)).toHaveLength(0);
  });
});
