import type { Doubt } from '../../survey/doubt';
import { SEVERITY_WORDS } from '../../survey/doubt-words';
import { useAppState } from '../app-context';
import { settlementsByDoubt } from '../state/settlements';
import { DECISION_WORDS } from '../words/record-words';

/** A doubt: how grave, what is doubtful, and what can be done; or what was decided about it. */
export function DoubtItem({ doubt }: { doubt: Doubt }) {
  const settled = useAppState(({ phase }) =>
    phase.kind === 'ready' ? settlementsByDoubt(phase.content.survey).get(doubt.id) : undefined,
  );
  return (
    <span className="doubt" data-severity={settled ? 'settled' : doubt.severity}>
      <span className="doubt-severity">{settled ? 'Settled' : SEVERITY_WORDS[doubt.severity]}</span>
      <span className="doubt-sentence">{doubt.sentence}</span>
      {settled ? (
        <span className="doubt-remedy">
          {settledBy(settled.revised)}: {DECISION_WORDS[settled.decision]} – {settled.why}
        </span>
      ) : (
        <span className="doubt-remedy">{doubt.remedy}</span>
      )}
    </span>
  );
}

/** "Ada, 2026-05-12". */
function settledBy({ by, at }: { readonly by: string | null; readonly at: string | null }): string {
  return [by ?? 'somebody', at?.slice(0, 10)].filter(Boolean).join(', ');
}
