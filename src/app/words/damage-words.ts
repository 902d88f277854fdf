import type { Kept } from '../../store/read-kept';
import type { Damage } from '../../store/rebuild';
import { counted } from '../../survey/wording';

/** What was found damaged on the device, what became of the survey, and what to do. Null where all is well. */
export function foundSentence({
  survey,
  damage,
  restored,
}: Pick<Kept, 'survey' | 'damage' | 'restored'>): string | null {
  const { name } = survey.site;
  const lost = damage.filter(({ replaced }) => !replaced);
  if (lost.length === 0 && restored) {
    return `The browser had lost part of what it keeps of “${name}”. This page’s second copy stands in for it; nothing that was saved is missing. Save a copy to a file now.`;
  }
  if (damage.length === 0) return null;
  const aside = 'Nothing was deleted: what was set aside can be saved to a file under Hand over.';
  if (lost.length === 0) {
    return `Part of “${name}” was damaged on this device. An older copy stands in for it; nothing that was saved is missing. ${aside}`;
  }
  const many = (what: Damage['what']): number =>
    lost.reduce((sum, each) => sum + (each.what === what ? each.count : 0), 0);
  const [changes, missing] = [many('change'), many('missing_changes')];
  const said: string[] = [];
  if (many('survey') > 0) {
    said.push('how it was first kept could not be read, so that only what was changed since is shown');
  }
  if (changes > 0)
    said.push(`${counted(changes, 'change')} could not be read and ${changes === 1 ? 'was' : 'were'} set aside`);
  if (missing > 0) said.push(`${counted(missing, 'change')} ${missing === 1 ? 'is' : 'are'} missing`);
  const rest = changes + missing > 0 ? ' All other changes are in it.' : '';
  return `Part of “${name}” is damaged on this device: ${said.join('; ')}.${rest} ${aside}`;
}
