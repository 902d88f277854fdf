import { useState } from 'react';
import type { Bounds } from '../../../map/picture';
import { KIND_WORDS } from '../../backdrop/backdrop-kinds';
import { backdrops } from '../../backdrop/backdrops';
import type { KeptBackdrop } from '../../backdrop/kept-backdrop';
import { mayLoadTiles } from '../../backdrop/may-load-tiles';
import { hostOf } from '../../backdrop/tile-address';

export interface KeptBackdropRowProps {
  readonly kept: KeptBackdrop;
  readonly isShown: boolean;
  readonly onFrame: (bounds: Bounds) => void;
}

const sizeWords = (bytes: number): string =>
  bytes < 1_000_000 ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / 1_000_000).toFixed(1)} MB`;

/** One kept backdrop; the one that is shown can be made fainter, named by whose it is, and brought into sight. */
export function KeptBackdropRow({ kept, isShown, onFrame }: KeptBackdropRowProps) {
  const [removing, setRemoving] = useState(false);
  const { key, name, kind, bytes, attribution, opacity, bounds } = kept;
  const notHere = kind === 'online' && !mayLoadTiles();
  const about = [KIND_WORDS[kind], kind === 'online' ? hostOf(kept.address ?? '') : sizeWords(bytes), attribution];
  return (
    <li>
      <label className="tick">
        <input
          type="radio"
          name="backdrop"
          checked={isShown}
          disabled={notHere}
          onChange={() => void backdrops.show(key)}
        />
        <span>
          <span className="backdrop-name">{name}</span>
          <span className="backdrop-about">{about.filter((part) => part !== '').join(' · ')}</span>
          {notHere && <span className="backdrop-about">Shown only on the page that may load tiles.</span>}
        </span>
      </label>
      {isShown && !notHere && (
        <div className="backdrop-look">
          <label className="field">
            <span>Strength, {Math.round(opacity * 100)} %</span>
            <input
              type="range"
              min="10"
              max="100"
              step="5"
              value={Math.round(opacity * 100)}
              onChange={(event) => backdrops.change(key, { opacity: Number(event.target.value) / 100 })}
            />
          </label>
          <label className="field">
            <span>Whose it is (shown on the map)</span>
            <input
              type="text"
              autoComplete="off"
              value={attribution}
              onChange={(event) => {
                // Tiles from the network are never shown without it.
                if (kind !== 'online' || event.target.value.trim() !== '') {
                  backdrops.change(key, { attribution: event.target.value });
                }
              }}
            />
          </label>
        </div>
      )}
      <div className="row-actions">
        {isShown && bounds && (
          <button type="button" className="line-button" onClick={() => onFrame(bounds)}>
            Show where it lies
          </button>
        )}
        {removing ? (
          <>
            <button type="button" className="line-button" onClick={() => void backdrops.remove(key)}>
              Delete {name} from this device
            </button>
            <button type="button" className="line-button" onClick={() => setRemoving(false)}>
              Cancel
            </button>
          </>
        ) : (
          <button type="button" className="line-button" onClick={() => setRemoving(true)}>
            Remove<span className="unseen"> {name}</span>
          </button>
        )}
      </div>
    </li>
  );
}
