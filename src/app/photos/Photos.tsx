import { useRef, useState } from 'react';
import '../../../styles/photos.css';
import { photosOf } from '../../survey/photo-edits';
import type { Photo, Survey } from '../../survey/survey';
import { useApp } from '../app-context';
import { PhotoView } from './PhotoView';
import { Picture } from './Picture';
import { keepPhoto } from './photo-store';

export interface PhotosProps {
  readonly survey: Survey;
  /** The id of what the photos show. */
  readonly subject: string;
  /** What that is, in words: "reading at 5 m". */
  readonly of: string;
}

/** The photos of a reading or a feature, small, and the way to add one. */
export function Photos({ survey, subject, of }: PhotosProps) {
  const parts = useApp();
  const camera = useRef<HTMLInputElement>(null);
  const file = useRef<HTMLInputElement>(null);
  const [said, setSaid] = useState<string | null>(null);
  const [shown, setShown] = useState<Photo | null>(null);
  const photos = photosOf(survey, subject);

  const take = async (input: HTMLInputElement) => {
    const [picked] = [...(input.files ?? [])];
    input.value = '';
    if (!picked) return;
    setSaid('Keeping the photo…');
    const kept = await keepPhoto(parts, picked, subject);
    setSaid(kept.ok ? null : kept.sentence);
  };

  return (
    <section className="photos" aria-label={`Photos of the ${of}`}>
      {photos.length > 0 && (
        <ul className="photo-row">
          {photos.map((photo, i) => (
            <li key={photo.id}>
              <Thumbnail photo={photo} name={`Photo ${i + 1} of the ${of}`} onOpen={() => setShown(photo)} />
            </li>
          ))}
        </ul>
      )}
      <p className="photo-ask">
        <button type="button" className="line-button" onClick={() => camera.current?.click()}>
          Take a photo
        </button>
        <button type="button" className="line-button" onClick={() => file.current?.click()}>
          Choose one
        </button>
      </p>
      <input
        ref={camera}
        type="file"
        hidden
        accept="image/*"
        capture="environment"
        aria-label={`Camera, ${of}`}
        onChange={(event) => void take(event.currentTarget)}
      />
      <input
        ref={file}
        type="file"
        hidden
        accept="image/jpeg,image/png,image/webp,image/*"
        aria-label={`Picture of the ${of}`}
        onChange={(event) => void take(event.currentTarget)}
      />
      {said !== null && <p role="status">{said}</p>}
      {shown && <PhotoView photo={shown} of={of} onClose={() => setShown(null)} />}
    </section>
  );
}

function Thumbnail({ photo, name, onOpen }: { photo: Photo; name: string; onOpen: () => void }) {
  return (
    <button type="button" className="photo-small" aria-label={name} onClick={onOpen}>
      <Picture digest={photo.sha256} mostDots={SMALL_DOTS} />
    </button>
  );
}

/** Sharp on screens with three dots to a pixel. */
const SMALL_DOTS = 216;
