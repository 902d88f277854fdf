import { useEffect, useRef, useState } from 'react';
import { retirePhoto } from '../../survey/photo-edits';
import type { Photo } from '../../survey/survey';
import { useApp } from '../app-context';
import { edit } from '../edit';
import { saveBlob } from '../save-file';
import { Picture } from './Picture';
import { pictureToGive } from './photo-store';

/** A photo as large as the screen, to be given away without its place or taken out. */
export function PhotoView({ photo, of, onClose }: { photo: Photo; of: string; onClose: () => void }) {
  const parts = useApp();
  const dialog = useRef<HTMLDialogElement>(null);
  const [said, setSaid] = useState('');
  useEffect(() => dialog.current?.showModal(), []);

  const give = async () => {
    const made = await pictureToGive(photo.sha256);
    if (!made.ok) return setSaid(made.sentence);
    const file = made.value;
    try {
      if (navigator.canShare?.({ files: [file] })) return await navigator.share({ files: [file] });
    } catch (error) {
      if (error instanceof DOMException && error.name === 'AbortError') return;
    }
    saveBlob(file.name, file);
    setSaid(`${file.name} saved, without its place, time and camera.`);
  };
  const takeOut = async () => {
    const out = await edit(parts, (survey, author) => retirePhoto(survey, photo.id, author));
    if (out.ok) onClose();
    else setSaid(out.sentence);
  };

  return (
    <dialog ref={dialog} className="photo-view" aria-label={`Photo of the ${of}`} onClose={onClose}>
      <Picture digest={photo.sha256} label={`The ${of}`} mostDots={2000} />
      <p className="quiet">
        Where the camera wrote down its place, a copy goes out without it. What can be seen stays.
      </p>
      <p className="photo-ask">
        <button type="button" className="line-button" onClick={() => void give()}>
          Save a copy without its place
        </button>
        <button type="button" className="line-button" onClick={() => void takeOut()}>
          Take out
        </button>
        <button type="button" className="line-button" onClick={() => dialog.current?.close()}>
          Close
        </button>
      </p>
      <p role="status">{said}</p>
    </dialog>
  );
}
