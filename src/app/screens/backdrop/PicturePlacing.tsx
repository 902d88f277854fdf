import { useEffect, useState } from 'react';
import { readWorldFile } from '../../../exchange/read/world-file';
import { boundsOfPlaces } from '../../../map/picture';
import type { TextHints } from '../../../position/coordinate-text';
import { crsOf } from '../../../position/crs';
import { cornersByWorld, cornersOf, fitPicture, type PictureCorners } from '../../../position/picture-fit';
import { done, type Outcome } from '../../../survey/outcome';
import { useAppState } from '../../app-context';
import { backdropChoice } from '../../backdrop/backdrop-choice';
import { backdrops } from '../../backdrop/backdrops';
import type { OfferedFiles } from '../../backdrop/offered-files';
import { type OpenedPicture, openPicture } from '../../backdrop/open-picture';
import { cornersWords, fitWords } from '../../backdrop/picture-words';
import { MOST_TIES, NO_TIE, type TiedPoint, tiesOf } from '../../backdrop/tied-point';
import { PictureDots } from './PictureDots';
import { TieFields } from './TieFields';

export interface PicturePlacingProps {
  readonly offered: Extract<OfferedFiles, { kind: 'picture' }>;
  readonly onDone: () => void;
  readonly onCancel: () => void;
}

/** Where a picture lies: by its world file in a stated system, or by points tied by hand. */
export function PicturePlacing({ offered, onDone, onCancel }: PicturePlacingProps) {
  const { file, world } = offered;
  const content = useAppState(({ phase }) => (phase.kind === 'ready' ? phase.content : null));
  const [opened, setOpened] = useState<Outcome<OpenedPicture> | null>(null);
  const [worldText, setWorldText] = useState<string | null>(null);
  const [byWorld, setByWorld] = useState(world !== null);
  const [code, setCode] = useState('');
  const [points, setPoints] = useState<readonly TiedPoint[]>([NO_TIE, NO_TIE, NO_TIE]);
  const [next, setNext] = useState(0);
  const [attribution, setAttribution] = useState('');

  useEffect(() => {
    void openPicture(file).then(setOpened);
    void world?.text().then(setWorldText);
  }, [file, world]);

  const track = content?.findings.lines[0]?.track[0];
  const site = track ? { lon: track.lon, lat: track.lat } : null;
  const hints: TextHints = { near: site, grids: content?.survey.site.local_grids ?? [] };

  const picture = opened?.ok ? opened.value : null;
  const lies = picture && liesAt(picture, byWorld ? { worldText, code } : { points, hints });

  const change = (at: number, point: TiedPoint) =>
    setPoints((before) => before.map((each, i) => (i === at ? point : each)));
  const askOnMap = (at: number) =>
    backdropChoice.pick({
      words: `Tap the place of point ${at + 1} on the map.`,
      onPlace: ({ lon, lat }) =>
        setPoints((before) =>
          before.map((each, i) => (i === at ? { ...each, place: `${lat.toFixed(7)}, ${lon.toFixed(7)}` } : each)),
        ),
      onCancel: () => undefined,
    });
  const keep = async () => {
    if (!picture || !lies?.ok) return;
    const { corners } = lies.value;
    const bounds = boundsOfPlaces(corners);
    const said = attribution.trim();
    await backdrops.add(
      { name: file.name, kind: 'picture', attribution: said, bounds: bounds && [...bounds], corners: [...corners] },
      picture.blob,
      picture.note,
    );
    onDone();
  };

  if (!opened) return <p role="status">Opening {file.name}…</p>;
  if (!opened.ok) {
    return (
      <>
        <p className="faults" role="alert">
          {opened.sentence}
        </p>
        <button type="button" className="line-button" onClick={onCancel}>
          Back
        </button>
      </>
    );
  }
  const { widthPx, heightPx, blob, note } = opened.value;
  return (
    <section aria-label="Where the picture lies" className="placing">
      <h3>Where does {file.name} lie?</h3>
      {note !== null && <p>{note}</p>}
      {world && (
        <fieldset className="choices">
          <legend>Placed by</legend>
          {[true, false].map((isWorld) => (
            <label key={String(isWorld)} className="chip">
              <input type="radio" name="placed-by" checked={byWorld === isWorld} onChange={() => setByWorld(isWorld)} />
              <span>{isWorld ? 'its world file' : 'points'}</span>
            </label>
          ))}
        </fieldset>
      )}
      {byWorld ? (
        <label className="field">
          <span>EPSG code of the system that {world?.name} is in, such as 32632</span>
          <input
            type="text"
            inputMode="numeric"
            autoComplete="off"
            value={code}
            onChange={(event) => setCode(event.target.value)}
          />
        </label>
      ) : (
        <>
          <p>
            Find two or three points far apart that you know on the ground. Choose a point, tap it on the picture, then
            type its coordinates in any spelling or tap it on the map.
          </p>
          <PictureDots
            picture={blob}
            widthPx={widthPx}
            heightPx={heightPx}
            points={points}
            onDot={(xPx, yPx) => {
              change(next, { dot: { xPx, yPx }, place: points[next]?.place ?? '' });
            }}
          />
          {points.map((point, i) => (
            <TieFields
              // biome-ignore lint/suspicious/noArrayIndexKey: a point is its number
              key={i}
              number={i + 1}
              point={point}
              isNext={i === next}
              hints={hints}
              onChange={(changed) => change(i, changed)}
              onChoose={() => setNext(i)}
              onMap={() => askOnMap(i)}
            />
          ))}
          {points.length < MOST_TIES && (
            <button type="button" className="line-button" onClick={() => setPoints([...points, NO_TIE])}>
              One more point
            </button>
          )}
        </>
      )}
      <label className="field">
        <span>Whose it is (shown on the map)</span>
        <input
          type="text"
          autoComplete="off"
          value={attribution}
          onChange={(event) => setAttribution(event.target.value)}
        />
      </label>
      <p role="status">
        {lies?.ok ? `${lies.value.words} ${cornersWords(lies.value.corners, site)}` : (lies?.sentence ?? '')}
      </p>
      <p className="row-actions">
        <button type="button" className="take-button" disabled={!lies?.ok} onClick={() => void keep()}>
          Keep this picture
        </button>
        <button type="button" className="line-button" onClick={onCancel}>
          Cancel
        </button>
      </p>
    </section>
  );
}

type Said =
  | { readonly worldText: string | null; readonly code: string }
  | { readonly points: readonly TiedPoint[]; readonly hints: TextHints };

/** Where the corners come to lie by what was said so far; null while too little was. */
function liesAt(
  { widthPx, heightPx }: OpenedPicture,
  said: Said,
): Outcome<{ readonly corners: PictureCorners; readonly words: string }> | null {
  if ('code' in said) {
    const digits = /\d{4,6}/.exec(said.code)?.[0];
    if (said.worldText === null || !digits) return null;
    const numbers = readWorldFile(said.worldText);
    if (!numbers.ok) return numbers;
    const crs = crsOf(`EPSG:${digits}`);
    if (!crs.ok) return crs;
    const corners = cornersByWorld(numbers.value, crs.value, widthPx, heightPx);
    return corners.ok ? done({ corners: corners.value, words: `Read in ${crs.value.name}.` }) : corners;
  }
  const ties = tiesOf(said.points, said.hints);
  if (!ties.ok) return ties;
  const fit = fitPicture(ties.value);
  if (!fit.ok) return fit;
  return done({ corners: cornersOf(fit.value, widthPx, heightPx), words: fitWords(fit.value) });
}
