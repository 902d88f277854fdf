import { settingsOf } from '../evidence/settings';
import type { Settings } from '../findings';
import type { Survey } from '../survey/survey';
import { BadInput } from './faults';

/** The survey's own settings; bad ones are bad input. */
export function settingsFor(survey: Survey): Settings {
  const settings = settingsOf(survey.site);
  if (!settings.ok)
    throw new BadInput([
      `survey:1:settings: read "${survey.site.name}"; expected usable settings: ${settings.sentence}`,
    ]);
  return settings.value;
}
