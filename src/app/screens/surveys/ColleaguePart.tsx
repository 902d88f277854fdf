import { lazy, Suspense, useEffect, useRef, useState } from 'react';
import type { Survey } from '../../../survey/survey';
import { readSurveyDocument } from '../../../survey/versions';
import { useAppState } from '../../app-context';

const MergeDialog = lazy(() => import('./MergeDialog').then(({ MergeDialog: dialog }) => ({ default: dialog })));

/** Brings another person's copy of the open survey into it. */
export function ColleaguePart() {
  const mine = useAppState(({ phase }) => (phase.kind === 'ready' ? phase.content.survey : null));
  const input = useRef<HTMLInputElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  const [part, setPart] = useState<{ readonly file: string; readonly survey: Survey } | null>(null);
  const [said, setSaid] = useState('');

  // The keyboard goes back to where it began, once nothing lies over the page any more.
  const open = part !== null;
  const wasOpen = useRef(false);
  useEffect(() => {
    if (wasOpen.current && !open) button.current?.focus();
    wasOpen.current = open;
  }, [open]);

  const look = async (file: File) => {
    setSaid('');
    try {
      const read = readSurveyDocument(JSON.parse(await file.text()));
      if (read.ok) setPart({ file: file.name, survey: read.value });
      else setSaid(`${file.name}: ${read.sentence}`);
    } catch {
      setSaid(`${file.name} is no survey file. It ends in .survey.json, or in .survey.txt where it was sent.`);
    }
  };

  return (
    <>
      <p>
        <button type="button" className="line-button" ref={button} onClick={() => input.current?.click()}>
          Bring in a colleague’s part
        </button>
      </p>
      <input
        ref={input}
        type="file"
        hidden
        accept=".json,.txt"
        aria-label="A colleague’s survey file"
        onChange={(event) => {
          const [file] = [...(event.currentTarget.files ?? [])];
          event.currentTarget.value = '';
          if (file) void look(file);
        }}
      />
      <p role="status">{said}</p>
      {part && mine && (
        <Suspense fallback={null}>
          <MergeDialog
            mine={mine}
            theirs={part.survey}
            file={part.file}
            onClose={(words) => {
              setPart(null);
              if (words) setSaid(words);
            }}
          />
        </Suspense>
      )}
    </>
  );
}
