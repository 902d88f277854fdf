import { done, type Outcome, refuse } from '../../survey/outcome';

export interface OpenedPicture {
  /** The picture as it is kept: smaller than the file where that is too large to be drawn. */
  readonly blob: Blob;
  /** Of the file, in which ties and world files count. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** What was made smaller, in a sentence. */
  readonly note: string | null;
}

/** Every drawing surface that the map runs on takes pictures of this side (WebGL 2 promises 2048, phones give 4096). */
const LONGEST_PX = 4096;

/** Opens a picture and makes it smaller where it is too large to be drawn. Refusals: `not_opened`, `not_made_smaller`. */
export async function openPicture(file: File): Promise<Outcome<OpenedPicture>> {
  const whole = await createImageBitmap(file).catch(() => null);
  if (!whole) {
    return refuse('not_opened', `${file.name} could not be opened as a picture, or it is too large for this device.`);
  }
  const { width: widthPx, height: heightPx } = whole;
  const part = LONGEST_PX / Math.max(widthPx, heightPx);
  if (part >= 1) {
    whole.close();
    return done({ blob: file, widthPx, heightPx, note: null });
  }
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(widthPx * part));
  canvas.height = Math.max(1, Math.round(heightPx * part));
  const context = canvas.getContext('2d');
  if (context) context.imageSmoothingQuality = 'high';
  context?.drawImage(whole, 0, 0, canvas.width, canvas.height);
  whole.close();
  const kind = file.type === 'image/jpeg' ? 'image/jpeg' : 'image/png';
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, kind, 0.9));
  if (!context || !blob) {
    return refuse('not_made_smaller', `${file.name} is too large to be drawn, and could not be made smaller here.`);
  }
  return done({
    blob,
    widthPx,
    heightPx,
    note: `The picture has ${widthPx} × ${heightPx} dots; it is kept with ${canvas.width} × ${canvas.height}, so that any device can draw it.`,
  });
}
