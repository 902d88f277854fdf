import { useEffect, useId, useRef, useState } from 'react';
import '../../../../styles/import.css';
import '../../../../styles/backdrop.css';
import type { SurveyMap } from '../../../map/survey-map';
import { useBackdropChoice } from '../../backdrop/backdrop-choice';
import { backdrops, useBackdrops } from '../../backdrop/backdrops';
import { mayLoadTiles, otherPage } from '../../backdrop/may-load-tiles';
import { type OfferedFiles, offeredIn } from '../../backdrop/offered-files';
import { takeTiles, takeUnderlay } from '../../backdrop/take-file';
import { KeptBackdropRow } from './KeptBackdropRow';
import { OnlineTilesForm } from './OnlineTilesForm';
import { PicturePlacing } from './PicturePlacing';

export interface BackdropDialogProps {
  readonly map: SurveyMap;
  /** Out of the way while a place on the map is asked for. */
  readonly hidden: boolean;
  readonly onClose: () => void;
}

const FILES =
  '.pmtiles,.png,.jpg,.jpeg,.webp,.jgw,.jpgw,.jpegw,.pgw,.pngw,.wpw,.webpw,.tfw,.wld,.gpx,.kml,.geojson,.json';

type Offered = Extract<OfferedFiles, { kind: 'picture' }>;

/** What lies under the survey: our paper and grid, or a map, a picture or tracks of the user's own. */
export function BackdropDialog({ map, hidden, onClose }: BackdropDialogProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const head = useRef<HTMLHeadingElement>(null);
  const chooser = useRef<HTMLInputElement>(null);
  const { shown } = useBackdropChoice();
  const { list, said } = useBackdrops();
  const [picture, setPicture] = useState<Offered | null>(null);
  const [refused, setRefused] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const headId = useId();

  useEffect(() => void backdrops.load(), []);
  useEffect(() => {
    if (hidden) return dialog.current?.close();
    dialog.current?.showModal();
    head.current?.focus();
  }, [hidden]);

  const take = async (files: readonly File[]) => {
    setRefused(null);
    const offered = offeredIn(files);
    if (!offered.ok) return setRefused(offered.sentence);
    if (offered.value.kind === 'picture') return setPicture(offered.value);
    setBusy(true);
    try {
      const { kind, file } = offered.value;
      const taken = await (kind === 'tiles' ? takeTiles(file) : takeUnderlay(file));
      if (taken.ok) await backdrops.add(taken.value.made, taken.value.file, null);
      else setRefused(taken.sentence);
    } finally {
      setBusy(false);
    }
  };

  return (
    <dialog
      ref={dialog}
      className="import backdrop"
      aria-labelledby={headId}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <header className="import-top">
        <h2 id={headId} ref={head} tabIndex={-1}>
          Backdrop
        </h2>
        <button type="button" className="line-button" onClick={onClose}>
          Close
        </button>
      </header>
      <div className="import-page" aria-busy={busy}>
        {picture ? (
          <PicturePlacing offered={picture} onDone={() => setPicture(null)} onCancel={() => setPicture(null)} />
        ) : (
          <>
            <p>What lies under the survey. Files stay on this device and go nowhere else.</p>
            {said !== null && <p role="status">{said}</p>}
            <ul className="backdrop-list">
              <li>
                <label className="tick">
                  <input
                    type="radio"
                    name="backdrop"
                    checked={shown === null}
                    onChange={() => void backdrops.show(null)}
                  />
                  <span>Paper and grid</span>
                </label>
              </li>
              {list?.map((kept) => (
                <KeptBackdropRow
                  key={kept.key}
                  kept={kept}
                  isShown={shown === kept.key}
                  onFrame={(bounds) => {
                    onClose();
                    map.frame(bounds);
                  }}
                />
              ))}
            </ul>
            <section aria-label="Add a backdrop">
              <button type="button" className="take-button" disabled={busy} onClick={() => chooser.current?.click()}>
                {busy ? 'Reading…' : 'Add a file'}
              </button>
              <input
                ref={chooser}
                type="file"
                className="unseen"
                tabIndex={-1}
                aria-label="Backdrop file"
                multiple
                accept={FILES}
                onChange={(event) => {
                  const files = [...(event.target.files ?? [])];
                  event.target.value = '';
                  if (files.length > 0) void take(files);
                }}
              />
              <p className="backdrop-kinds">
                Map tiles (PMTiles) · a picture (PNG, JPEG, WebP), together with its world file if it has one · tracks
                and places (GPX, KML, GeoJSON)
              </p>
              {refused !== null && (
                <p className="faults" role="alert">
                  {refused}
                </p>
              )}
            </section>
            <section aria-label="Tiles from the network">
              {mayLoadTiles() ? (
                <OnlineTilesForm />
              ) : (
                <>
                  <p>This page asks no other server. Another page beside it may load tiles from an address you give.</p>
                  <p>
                    <a className="backdrop-link" href={otherPage()}>
                      Open the page that may load tiles
                    </a>
                  </p>
                </>
              )}
            </section>
          </>
        )}
      </div>
    </dialog>
  );
}
