/** Hands a text (as UTF-8) or bytes to the browser's download as a file. Gives the number of bytes. */
export function saveFile(name: string, content: string | Blob, mediaType: string): number {
  return saveBlob(name, new Blob([content], { type: mediaType }));
}

/** The same for bytes. */
export function saveBlob(name: string, file: Blob): number {
  const address = URL.createObjectURL(file);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The browser has taken hold of the bytes by the time it comes back to us.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
  return file.size;
}

/** Dots of a PNG for each of the figure's own: sharp on paper too. */
const DOTS = 3;

/** A figure as a PNG. Throws where the browser cannot draw it. */
export async function savePng(name: string, svg: string): Promise<number> {
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  await image.decode();
  const canvas = document.createElement('canvas');
  canvas.width = DOTS * image.naturalWidth;
  canvas.height = DOTS * image.naturalHeight;
  canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
  const file = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/png'));
  if (!file) throw new Error('the browser made no picture of it');
  return saveBlob(name, file);
}
