import { done, type Outcome, refuse } from '../survey/outcome';

/** The address of the survey that the page was asked to open: `?survey=PATH`, or the one that it brings along. */
export function surveyAddress(pageHref: string, demoHref: string): Outcome<URL> {
  const page = new URL(pageHref);
  const asked = page.searchParams.get('survey');
  if (asked === null || asked === '') return done(new URL(demoHref, page));
  let address: URL;
  try {
    address = new URL(asked, page);
  } catch {
    return refuse('survey_address_unreadable', `“${asked}” is not a path to a survey.`);
  }
  if (address.origin !== page.origin) {
    return refuse(
      'survey_elsewhere',
      `This page opens surveys only from its own address. Start it with your file: hollowline serve ${fileName(address)}`,
    );
  }
  return done(address);
}

/** The last step of an address, as a file would be called. */
export function fileName(address: URL): string {
  return decodeURIComponent(address.pathname.split('/').at(-1) ?? '') || 'survey.json';
}
