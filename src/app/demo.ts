import reliefUrl from '../../demo-data/relief.geojson?url';
import surveyUrl from '../../demo-data/survey-form/brackamore-slade.survey.json?url';

/** The invented site that the page brings along. */
export const DEMO_SURVEY_URL: string = surveyUrl;
export const DEMO_RELIEF_URL: string = reliefUrl;
