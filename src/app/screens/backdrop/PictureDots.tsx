import { useEffect, useRef, useState } from 'react';
import type { TiedPoint } from '../../backdrop/tied-point';

export interface PictureDotsProps {
  readonly picture: Blob;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly points: readonly TiedPoint[];
  readonly onDot: (xPx: number, yPx: number) => void;
}

const SCALES = [1, 2, 4] as const;

/** The picture with its tied points on it. A tap gives a dot of the picture, counted from its top left. */
export function PictureDots({ picture, widthPx, heightPx, points, onDot }: PictureDotsProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const [scale, setScale] = useState<(typeof SCALES)[number]>(1);

  useEffect(() => {
    let gone = false;
    void createImageBitmap(picture).then((bitmap) => {
      if (!gone && canvas.current) {
        canvas.current.width = bitmap.width;
        canvas.current.height = bitmap.height;
        canvas.current.getContext('2d')?.drawImage(bitmap, 0, 0);
      }
      bitmap.close();
    });
    return () => {
      gone = true;
    };
  }, [picture]);

  // Marks keep their size whatever the picture is enlarged to.
  const mark = Math.max(widthPx, heightPx) / (60 * scale);
  return (
    <>
      <fieldset className="choices">
        <legend className="unseen">Size of the picture</legend>
        {SCALES.map((each) => (
          <label key={each} className="chip">
            <input type="radio" name="picture-size" checked={scale === each} onChange={() => setScale(each)} />
            <span>{each === 1 ? 'whole' : `${each} times`}</span>
          </label>
        ))}
      </fieldset>
      <div className="picture-scroll">
        {/* biome-ignore lint/a11y/useKeyWithClickEvents: the same dots can be typed beside it */}
        {/* biome-ignore lint/a11y/noStaticElementInteractions: as above */}
        <div
          className="picture-sheet"
          data-scale={scale}
          onClick={(event) => {
            const { left, top, width, height } = event.currentTarget.getBoundingClientRect();
            const part = (at: number, whole: number, dots: number) => Math.round((at / whole) * dots * 10) / 10;
            onDot(part(event.clientX - left, width, widthPx), part(event.clientY - top, height, heightPx));
          }}
        >
          <canvas ref={canvas} role="img" aria-label="The picture" />
          <svg viewBox={`0 0 ${widthPx} ${heightPx}`} aria-hidden="true">
            {points.map(
              ({ dot }, i) =>
                dot && (
                  // biome-ignore lint/suspicious/noArrayIndexKey: a point is its number
                  <g key={i} transform={`translate(${dot.xPx} ${dot.yPx}) scale(${mark})`}>
                    <path d="M-1 0h2M0 -1v2" />
                    <text x="0.4" y="-0.4" fontSize="1.6">
                      {i + 1}
                    </text>
                  </g>
                ),
            )}
          </svg>
        </div>
      </div>
    </>
  );
}
