import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import { whyNot } from '../../store/failures';
import { createPhotoFiles, type PhotoFiles } from '../../store/photo-files';
import { done, type Outcome, refuse } from '../../survey/outcome';
import { addPhoto } from '../../survey/photo-edits';
import type { AppParts } from '../app-context';
import { edit } from '../edit';

let files: PhotoFiles | null = null;

export function photoFiles(): PhotoFiles {
  files ??= createPhotoFiles();
  return files;
}

/** By the browser where it offers that: only in a page that came safely (HTTPS). */
const digestOf = async (bytes: ArrayBuffer): Promise<string> =>
  bytesToHex(
    typeof crypto.subtle === 'undefined'
      ? sha256(new Uint8Array(bytes))
      : new Uint8Array(await crypto.subtle.digest('SHA-256', bytes)),
  );

/** Keeps a picture on the device, then writes down what it shows: a record never speaks of a file that is not there. */
export async function keepPhoto(parts: AppParts, file: File, subject: string): Promise<Outcome<void>> {
  if (!file.type.startsWith('image/')) return refuse('no_picture', `${file.name} is no picture.`);
  try {
    const bytes = await file.arrayBuffer();
    const digest = await digestOf(bytes);
    await photoFiles().put(digest, bytes, file.type);
    const said = { sha256: digest, subject, mediaType: file.type, bytes: bytes.byteLength };
    return await edit(parts, (survey, author) => addPhoto(survey, said, author));
  } catch (error) {
    return refuse('photo_not_kept', `The photo is not kept (${whyNot(error)}). Take it with the camera’s own app.`);
  }
}

/** The picture without where, when and with what it was taken. */
export async function pictureToGive(digest: string): Promise<Outcome<File>> {
  const blob = await photoFiles().get(digest);
  if (!blob) return refuse('no_file', 'The picture is not on this device.');
  const { strippedPhoto } = await import('../../exchange/write/photo-stripped');
  const stripped = strippedPhoto(new Uint8Array(await blob.arrayBuffer()));
  if (!stripped.ok) return stripped;
  const { bytes, mediaType } = stripped.value;
  const name = `photo-${digest.slice(0, 8)}.${mediaType === 'image/jpeg' ? 'jpg' : mediaType.slice(6)}`;
  return done(new File([bytes as Uint8Array<ArrayBuffer>], name, { type: mediaType }));
}
