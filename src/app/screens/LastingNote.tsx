import { useAppState } from '../app-context';
import { type Lasting, useLastingStorage } from '../field/lasting-storage';

const WORDS: Record<Lasting, string> = {
  asking: 'The browser has not promised yet to keep what is stored here. It is asked at the first reading.',
  promised:
    'The browser has promised to keep what is stored here. If the device is lost or breaks, it is gone all the same.',
  refused: 'The browser has not promised to keep what is stored here. Save a copy to a file after each line.',
  unknown_here: 'This browser makes no promise to keep what is stored here. Save a copy to a file after each line.',
};

/** How long what is kept here lasts: what the browser promises, and what it does not. */
export function LastingNote() {
  const { lasting, ask } = useLastingStorage();
  const isUnguarded = useAppState(({ tab }) => tab === 'unguarded');
  return (
    <>
      <p role="status">
        {WORDS[lasting]}
        {lasting !== 'promised' &&
          ' Browsers delete such things when space runs short, and some after 7 days without a visit, unless the page is installed on the home screen.'}{' '}
        {lasting === 'asking' && (
          <button type="button" className="line-button" onClick={ask}>
            Ask the browser now
          </button>
        )}
      </p>
      {isUnguarded && (
        <p>This browser cannot tell whether a survey is open in another tab as well. Keep it open in one only.</p>
      )}
    </>
  );
}
