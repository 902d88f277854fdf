import { useAppState } from '../../app-context';
import type { Kept } from '../../state/app-state';

const WORDS: Record<Kept, string> = {
  fresh: '',
  keeping: 'Saving…',
  kept: 'Saved',
  not_kept: 'NOT SAVED',
};

/** Whether everything recorded so far is on the disk of this device. Never said before it is. */
export function SavedMark() {
  const kept = useAppState((state) => state.kept);
  return (
    <span className="saved-mark" data-kept={kept} role="status">
      {WORDS[kept]}
    </span>
  );
}
