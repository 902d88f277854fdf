import { useEffect, useState } from 'react';
import { useApp, useAppState } from '../app-context';
import { DEMO_RELIEF_URL, DEMO_SURVEY_URL } from '../demo';
import { openDemo, resume } from '../start';
import { PageVersion } from './field/PageVersion';

type Listed = readonly { readonly key: string; readonly name: string }[];

/** The surveys that this device has kept, and the way back to the demo. */
export function KeptSurveys() {
  const parts = useApp();
  const kept = useAppState((state) => state.kept);
  const [listed, setListed] = useState<Listed>([]);

  useEffect(() => {
    let gone = false;
    // Asked again whenever something was kept.
    if (kept !== 'keeping') {
      parts.device.list().then(
        (found) => !gone && setListed(found),
        () => !gone && setListed([]),
      );
    }
    return () => {
      gone = true;
    };
  }, [parts, kept]);

  const reopen = async (key: string) => {
    const survey = await parts.device.reopen(key);
    if (survey) await resume(parts, survey);
  };
  const showDemo = async () => {
    await parts.device.closeLast();
    parts.keep.follow(null);
    await openDemo(parts, location.href, { survey: DEMO_SURVEY_URL, relief: DEMO_RELIEF_URL });
  };

  return (
    <section aria-labelledby="kept-head">
      <h2 id="kept-head">On this device</h2>
      {listed.length === 0 ? (
        <p>Nothing is kept yet. From the first edit on, or when files are brought in, a survey is kept here.</p>
      ) : (
        <ul className="row-list">
          {listed.map(({ key, name }) => (
            <li key={key}>
              <button type="button" className="row-button" onClick={() => void reopen(key)}>
                <span className="row-words">
                  <span className="row-place">Open {name}</span>
                </span>
              </button>
            </li>
          ))}
        </ul>
      )}
      <p>
        <button type="button" className="line-button" onClick={() => void showDemo()}>
          Show the demo
        </button>
      </p>
      <PageVersion />
    </section>
  );
}
