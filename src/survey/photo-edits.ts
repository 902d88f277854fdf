import type { Change } from './commit';
import type { Author } from './edits';
import { makeId, type PhotoId } from './ids';
import { done, type Outcome, refuse } from './outcome';
import type { Photo, Survey } from './survey';

/** A photo whose file is kept already. `sha256` is of its bytes, in hexadecimal. */
export type NewPhoto = Pick<Photo, 'sha256' | 'subject'> & { readonly mediaType: string; readonly bytes: number };

/** The photos of a reading, a feature or a line, in the order in which they were taken. */
export const photosOf = (survey: Survey, subject: string): readonly Photo[] =>
  survey.photos.filter((photo) => photo.subject === subject && !photo.retired);

/** Writes down that a photo shows something of the survey. Refuses an unknown subject, and a photo that it has already. */
export function addPhoto(survey: Survey, said: NewPhoto, author: Author): Outcome<Change> {
  const { sha256, subject, mediaType, bytes } = said;
  const subjects = [survey.readings, survey.features, survey.lines, survey.surroundings, survey.outings];
  if (!subjects.some((entities) => entities.some(({ id, retired }) => id === subject && !retired))) {
    return refuse('no_such_subject', 'What the photo shows is not in this survey any more.');
  }
  const before = survey.photos.find((photo) => photo.sha256 === sha256 && photo.subject === subject);
  if (before && !before.retired) return refuse('same_photo', 'This photo is there already.');
  const photo: Photo = {
    ...(before ?? { id: makeId('photo', subject, sha256) }),
    revised: { at: author.at, by: author.by, count: before ? before.revised.count + 1 : 0 },
    retired: false,
    sha256,
    subject,
    time: author.at,
    media_type: mediaType,
    bytes,
  };
  return done({ label: 'Add a photo', put: { photos: [photo] } });
}

/** Takes a photo out of what is shown. Its file stays on the device. */
export function retirePhoto(survey: Survey, id: PhotoId, author: Author): Outcome<Change> {
  const photo = survey.photos.find((candidate) => candidate.id === id && !candidate.retired);
  if (!photo) return refuse('no_such_photo', 'That photo is not in this survey any more.');
  const revised = { ...photo.revised, at: author.at, by: author.by, count: photo.revised.count + 1 };
  return done({ label: 'Take out a photo', put: { photos: [{ ...photo, revised, retired: true }] } });
}
