import { useApp } from '../app-context';
import { DEMO_RELIEF_URL, DEMO_SURVEY_URL } from '../demo';
import { openDemo } from '../start';
import { PageVersion } from './field/PageVersion';
import { LastingNote } from './LastingNote';
import { SetAsideParts } from './SetAsideParts';
import { ColleaguePart } from './surveys/ColleaguePart';
import { NewSurvey } from './surveys/NewSurvey';
import { SurveysList } from './surveys/SurveysList';
import { useKeptSurveys } from './surveys/use-kept-surveys';

/** The surveys that this device has kept, what a colleague has sent, and the way back to the demo. */
export function KeptSurveys() {
  const parts = useApp();
  const list = useKeptSurveys();
  const { listed } = list;

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
        <SurveysList {...list} />
      )}
      <NewSurvey />
      <ColleaguePart />
      <p>
        <button type="button" className="line-button" onClick={() => void showDemo()}>
          Show the demo
        </button>
      </p>
      <SetAsideParts listed={listed} />
      <LastingNote />
      <PageVersion />
    </section>
  );
}
