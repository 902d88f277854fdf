import { useEffect, useRef, useState } from 'react';
import { photoFiles } from './photo-store';

export interface PictureProps {
  readonly digest: string;
  /** What it shows; absent where something around it says so. */
  readonly label?: string;
  /** The longer side, in dots; a phone's photo has ten million of them, more than a small one needs in memory. */
  readonly mostDots: number;
}

type Sought = 'looking' | 'shown' | 'not_here' | 'not_drawable';

const WORDS: Record<Sought, string> = {
  looking: '',
  shown: '',
  not_here: 'Not on this device',
  not_drawable: 'Kept; this browser cannot show its kind',
};

/** A kept photo, drawn the right way up. It is drawn, not linked: the page loads pictures from nowhere but its own files. */
export function Picture({ digest, label, mostDots }: PictureProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const [sought, setSought] = useState<Sought>('looking');
  useEffect(() => {
    let gone = false;
    const draw = async (): Promise<Sought> => {
      const blob = await photoFiles().get(digest);
      if (!blob) return 'not_here';
      const picture = await createImageBitmap(blob).catch(() => null);
      const on = canvas.current;
      if (!picture || !on || gone) return 'not_drawable';
      const scale = Math.min(1, mostDots / Math.max(picture.width, picture.height));
      on.width = Math.max(1, Math.round(scale * picture.width));
      on.height = Math.max(1, Math.round(scale * picture.height));
      on.getContext('2d')?.drawImage(picture, 0, 0, on.width, on.height);
      picture.close();
      return 'shown';
    };
    draw().then(
      (found) => !gone && setSought(found),
      () => !gone && setSought('not_here'),
    );
    return () => {
      gone = true;
    };
  }, [digest, mostDots]);
  return (
    <>
      <canvas
        ref={canvas}
        className="picture"
        hidden={sought !== 'shown'}
        {...(label === undefined ? { 'aria-hidden': true } : { role: 'img', 'aria-label': label })}
      />
      {WORDS[sought] !== '' && <span className="picture-words">{WORDS[sought]}</span>}
    </>
  );
}
