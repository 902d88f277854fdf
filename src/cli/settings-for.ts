import { settingsOf } from '../evidence/settings';
import type { Settings } from '../findings';
import type { Survey } from '../survey/survey';
import { faultOf } from './faults';

/** The survey's own settings; bad ones are bad input. */
export function settingsFor(survey: Survey): Settings {
  const settings = settingsOf(survey.site);
  if (!settings.ok) throw faultOf('survey', 'settings', survey.site.name, `usable settings: ${settings.sentence}`);
  return settings.value;
}
