import { useState } from 'react';
import { disclose } from '../../../discretion/disclose';
import { useApp } from '../../app-context';
import { fileStem } from '../../file-stem';
import { saveFile } from '../../save-file';
import type { Content } from '../../state/app-state';
import { ShareCopy } from './ShareCopy';

/** The whole survey as a file, from where one stands: the one copy that no browser can delete. */
export function SaveCopy({ content }: { content: Content }) {
  const { store } = useApp();
  const [said, setSaid] = useState('');
  const name = `${fileStem(content.survey.site.name)}.survey.json`;
  const save = async () => {
    try {
      const { surveyText } = await import('../../../exchange/write/survey-text');
      const text = surveyText(disclose(content.survey, content.findings, 'surveyor'));
      const bytes = saveFile(name, text, 'application/json');
      setSaid(`${name}, ${Math.ceil(bytes / 1000)} kB.`);
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      store.dispatch({ type: 'trouble', sentence: `The copy could not be written: ${reason}` });
    }
  };
  return (
    <p>
      <button type="button" className="line-button" onClick={() => void save()}>
        Save a copy to a file
      </button>{' '}
      <ShareCopy content={content} />
      <span role="status">{said}</span>
    </p>
  );
}
