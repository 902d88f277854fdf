import { useCallback } from 'react';
import type { Change } from '../../../survey/commit';
import type { Author } from '../../../survey/edits';
import type { Outcome } from '../../../survey/outcome';
import type { Survey } from '../../../survey/survey';
import { useApp } from '../../app-context';
import { edit } from '../../edit';

/** Makes an edit. Gives the sentence of its refusal, to be shown beside what was typed, or null. */
export function useEdit(): (make: (survey: Survey, author: Author) => Outcome<Change>) => Promise<string | null> {
  const parts = useApp();
  return useCallback(
    async (make) => {
      const outcome = await edit(parts, make);
      return outcome.ok ? null : outcome.sentence;
    },
    [parts],
  );
}
