import { useState } from 'react';
import { disclose } from '../../../discretion/disclose';
import { useApp } from '../../app-context';
import { fileStem } from '../../file-stem';
import { canShareText, shareText } from '../../share-file';
import type { Content } from '../../state/app-state';

/** The whole survey through the device's share sheet, where there is one. "Bring in files" takes it back. */
export function ShareCopy({ content }: { content: Content }) {
  const { store } = useApp();
  const [can] = useState(canShareText);
  const [said, setSaid] = useState('');
  if (!can) return null;
  const name = `${fileStem(content.survey.site.name)}.survey.txt`;
  const share = async () => {
    try {
      const { surveyText } = await import('../../../exchange/write/survey-text');
      const given = await shareText(name, surveyText(disclose(content.survey, content.findings, 'surveyor')));
      setSaid(given ? `${name} was given on.` : '');
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      store.dispatch({
        type: 'trouble',
        sentence: `The copy could not be sent (${reason}). Save it to a file instead.`,
      });
    }
  };
  return (
    <>
      <button type="button" className="line-button" onClick={() => void share()}>
        Send a copy
      </button>{' '}
      <span role="status">{said}</span>
    </>
  );
}
