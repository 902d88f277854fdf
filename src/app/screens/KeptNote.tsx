import { useAppState } from '../app-context';
import type { Kept } from '../state/app-state';

const WORDS: Record<Kept, string | null> = {
  fresh: null,
  keeping: 'Keeping the change on this device…',
  kept: 'Kept on this device.',
  not_kept: 'Not kept on this device: save the survey to a file under Hand over.',
};

/** Whether what was done is safe: said after the fact, never before. */
export function KeptNote() {
  const kept = useAppState((state) => state.kept);
  return (
    <p className="quiet" role="status">
      {WORDS[kept]}
    </p>
  );
}
