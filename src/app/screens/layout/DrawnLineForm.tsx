import { geodesicDistanceM } from '../../../position/geodesic';
import type { LineId } from '../../../survey/ids';
import { addDrawnLine } from '../../../survey/path-edits';
import type { Position } from '../../../survey/survey';
import type { Content } from '../../state/app-state';
import type { DrawnVertex } from '../../state/layout-state';
import { drawnAccuracy95M, pointedPosition } from '../../state/map-accuracy';
import { typedNumber } from '../../state/typed-value';
import { useEdit } from '../record/use-edit';
import { AskForm } from './AskForm';
import { Field } from './Field';
import { useWholeSheet } from './use-whole-sheet';

export interface DrawnLineFormProps {
  readonly content: Content;
  readonly vertices: readonly DrawnVertex[];
  readonly onAdded: (id: LineId) => void;
  readonly onCancel: () => void;
}

/** Chainages of a drawn line: the length on the ground from its first point, to the decimetre. */
function measured(vertices: readonly DrawnVertex[]): readonly number[] {
  const chainages = [0];
  for (let i = 1; i < vertices.length; i += 1) {
    const [p, q] = [vertices[i - 1] as DrawnVertex, vertices[i] as DrawnVertex];
    chainages.push((chainages[i - 1] as number) + geodesicDistanceM(p, q));
  }
  return chainages;
}

/** The position of a corner: that of the placed point which it was snapped to, else what the map is good for. */
function positionOf(vertex: DrawnVertex, { survey, findings }: Content, drawn95M: number, time: string): Position {
  const snapped = survey.lines.flatMap(({ path }) => path).find(({ id }) => id === vertex.snappedTo);
  if (snapped?.kind === 'fix') return snapped.position;
  const control = findings.lines.flatMap(({ controls }) => controls).find(({ id }) => id === vertex.snappedTo);
  const position = pointedPosition(vertex, drawn95M, time);
  return control ? { ...position, accuracy_m: control.uncertainty95M } : position;
}

/** What a drawn line is called, its chainages, which may be typed over by those of the tape, and its electrodes. */
export function DrawnLineForm({ content, vertices, onAdded, onCancel }: DrawnLineFormProps) {
  const edit = useEdit();
  useWholeSheet();
  const chainages = measured(vertices);
  const words = (i: number) => (i === 0 ? 'Start' : i === vertices.length - 1 ? 'End' : `Bend ${i}`);
  return (
    <AskForm
      label="The drawn line"
      action="Add the line"
      onCancel={onCancel}
      onSaid={async (said) => {
        const typed = vertices.map((_, i) => typedNumber(said(`chainage ${i}`)));
        const wrong = typed.findIndex(({ ok }) => !ok);
        const refusal = typed[wrong];
        if (refusal && !refusal.ok) return `${words(wrong)}: ${refusal.sentence}`;
        const step = typedNumber(said('step'));
        if (!step.ok) return `Electrode every: ${step.sentence}`;
        const along = typed.map((each) => (each.ok ? each.value : Number.NaN));
        const layout = { from_m: along[0] ?? 0, to_m: along[along.length - 1] ?? 0, step_m: step.value };
        const drawn95M = drawnAccuracy95M(content.findings);
        let added: LineId | undefined;
        const refused = await edit((survey, author) => {
          const fixes = vertices.map((vertex, i) => ({
            chainage_m: along[i] as number,
            position: positionOf(vertex, content, drawn95M, author.at),
          }));
          const change = addDrawnLine(survey, { name: said('name'), layout, fixes }, crypto.randomUUID(), author);
          if (change.ok) added = change.value.put?.lines?.[0]?.id;
          return change;
        });
        if (refused === null && added) onAdded(added);
        return refused;
      }}
    >
      <Field name="name" words="Name" inputMode="text" />
      <fieldset>
        <legend>Chainages, m – as drawn; type over them what the tape says</legend>
        <div className="lay-fields">
          {chainages.map((chainage, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a corner is its turn
            <Field key={i} name={`chainage ${i}`} words={words(i)} begin={chainage.toFixed(1)} />
          ))}
        </div>
      </fieldset>
      <Field name="step" words="Electrode every, m" begin="1" />
    </AskForm>
  );
}
