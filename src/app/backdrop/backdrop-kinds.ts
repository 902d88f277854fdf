export const BACKDROP_KINDS = ['tiles', 'picture', 'underlay', 'online'] as const;
export type BackdropKind = (typeof BACKDROP_KINDS)[number];

export const KIND_WORDS: Readonly<Record<BackdropKind, string>> = {
  tiles: 'map tiles',
  picture: 'picture',
  underlay: 'tracks and places',
  online: 'tiles from the network',
};

/** A picture is drawn paler than the survey over it; lines in our own ink are pale already (choice). */
export const FIRST_OPACITY: Readonly<Record<BackdropKind, number>> = {
  tiles: 0.35,
  picture: 0.35,
  underlay: 1,
  online: 0.35,
};
