import '../../../../styles/layout.css';
import { useAppState } from '../../app-context';
import type { Content } from '../../state/app-state';
import { DrawPanel } from './DrawPanel';
import { LinePage } from './LinePage';
import { LinesList } from './LinesList';

/** Where lines are put on the ground: by tape, compass, GPS and map. */
export function LayoutMargin({ content }: { content: Content }) {
  const lineId = useAppState(({ layout }) => layout.line);
  const drawing = useAppState(({ layout }) => layout.task === 'draw' || layout.sketch !== null);
  const line = content.survey.lines.find(({ id, retired }) => id === lineId && !retired);
  return (
    <div className="lay-out">
      {line ? (
        <LinePage key={line.id} content={content} line={line} />
      ) : drawing ? (
        <DrawPanel content={content} />
      ) : (
        <LinesList content={content} />
      )}
    </div>
  );
}
