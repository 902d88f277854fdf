import type { Doubt } from '../../survey/doubt';

const SEVERITY: Record<Doubt['severity'], string> = {
  serious: 'Serious',
  warning: 'Look first',
  note: 'Worth knowing',
};

/** A doubt: how grave, what is doubtful, and what can be done. */
export function DoubtItem({ doubt }: { doubt: Doubt }) {
  return (
    <span className="doubt" data-severity={doubt.severity}>
      <span className="doubt-severity">{SEVERITY[doubt.severity]}</span>
      <span className="doubt-sentence">{doubt.sentence}</span>
      <span className="doubt-remedy">{doubt.remedy}</span>
    </span>
  );
}
