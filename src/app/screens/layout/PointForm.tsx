import { useState } from 'react';
import type { NewPathItem } from '../../../survey/path-checks';
import { addPathItem, correctPathItem } from '../../../survey/path-edits';
import type { Line, PathItem } from '../../../survey/survey';
import { useApp } from '../../app-context';
import type { Content } from '../../state/app-state';
import { chainageOf, type LinePoint, wantedChainage } from '../../state/line-points';
import { useEdit } from '../record/use-edit';
import { BesideLine } from './BesideLine';
import { ByBearing } from './ByBearing';
import { ByCoordinates } from './ByCoordinates';
import { ByTwoTapes } from './ByTwoTapes';
import { HereByGps } from './HereByGps';
import { OnMap } from './OnMap';
import { TakeOut } from './TakeOut';

const WAYS = [
  { way: 'gps', words: 'here (GPS)' },
  { way: 'map', words: 'on the map' },
  { way: 'typed', words: 'by coordinates' },
  { way: 'leg', words: 'by bearing and tape' },
  { way: 'two_tapes', words: 'by two tapes' },
  { way: 'offset', words: 'beside another line' },
] as const;
type Way = (typeof WAYS)[number]['way'];

/** What every way of placing a point is given. */
export interface WayProps {
  readonly content: Content;
  readonly line: Line;
  readonly points: readonly LinePoint[];
  /** What is said of the point now, where it is corrected. */
  readonly before: PathItem | null;
  /** What the chainage begins with. */
  readonly chainageText: string;
  readonly action: string;
  readonly onItem: (item: NewPathItem) => Promise<string | null>;
  readonly onCancel: () => void;
}

export interface PointFormProps extends Omit<WayProps, 'before' | 'chainageText' | 'action' | 'onItem'> {
  readonly correcting: LinePoint | null;
  readonly onDone: (chainageM: number) => void;
  readonly onRetire: () => Promise<string | null>;
}

function wayOf(item: PathItem | undefined): Way {
  if (!item) return 'gps';
  if (item.kind === 'leg' || item.kind === 'two_tapes' || item.kind === 'offset') return item.kind;
  return 'typed';
}

/** Adds a point, or corrects one, by one of the ways there are. */
export function PointForm({ correcting, onDone, onRetire, ...given }: PointFormProps) {
  const { store } = useApp();
  const edit = useEdit();
  const [way, setWay] = useState<Way>(() => wayOf(correcting?.item));
  const { line, points } = given;
  const wanted = wantedChainage(line, points);
  const props: WayProps = {
    ...given,
    before: correcting?.item ?? null,
    chainageText: correcting ? String(correcting.chainageM) : wanted === null ? '' : String(wanted),
    action: correcting ? 'Correct' : 'Add the point',
    onItem: async (item) => {
      const refused = await edit((survey, author) =>
        correcting
          ? correctPathItem(survey, line.id, correcting.item.id, item, author)
          : addPathItem(survey, line.id, item, crypto.randomUUID(), author),
      );
      if (refused === null) onDone(chainageOf({ ...item, id: '' } as unknown as PathItem));
      return refused;
    },
  };
  const choose = (chosen: Way) => {
    store.dispatch({ type: 'layout', layout: { task: chosen === 'map' ? 'place' : null, placed: null } });
    setWay(chosen);
  };
  return (
    <div className="point-form">
      <fieldset className="ways">
        <legend>{correcting ? 'How is it placed?' : 'How is the point placed?'}</legend>
        {WAYS.map(({ way: each, words }) => (
          <label key={each} className="chip">
            <input type="radio" name="way" checked={each === way} onChange={() => choose(each)} />
            <span>{words}</span>
          </label>
        ))}
      </fieldset>
      {way === 'gps' && <HereByGps {...props} />}
      {way === 'map' && <OnMap {...props} />}
      {way === 'typed' && <ByCoordinates {...props} />}
      {way === 'leg' && <ByBearing {...props} />}
      {way === 'two_tapes' && <ByTwoTapes {...props} />}
      {way === 'offset' && <BesideLine {...props} />}
      {correcting && <TakeOut onRetire={onRetire} />}
    </div>
  );
}
