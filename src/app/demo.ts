/** The invented site that the page brings along. */
const surveys = import.meta.glob<string>('../../demo-data/survey-form/*.survey.json', {
  query: '?url',
  import: 'default',
  eager: true,
});
const reliefs = import.meta.glob<string>('../../demo-data/relief.geojson', {
  query: '?url',
  import: 'default',
  eager: true,
});

export const DEMO_SURVEY_URL = Object.values(surveys)[0] ?? 'demo.survey.json';
export const DEMO_RELIEF_URL = Object.values(reliefs)[0] ?? 'relief.geojson';
