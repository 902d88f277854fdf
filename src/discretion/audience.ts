/** For whom something is written, from those who know the ground to those who may know least of it. */
export const AUDIENCES = ['surveyor', 'keeper', 'planner', 'public'] as const;
export type Audience = (typeof AUDIENCES)[number];

/** What each audience is, for a list of them. */
export const AUDIENCE_WORDS: Readonly<Record<Audience, string>> = {
  surveyor: 'the surveyor: everything, exact',
  keeper: 'another keeper of the inventory: everything but what a class withholds',
  planner: 'who decides what is built: evidence, without names, notes and times of day',
  public: 'anybody: the same, with protected places hidden as their classes say',
};

/** Audiences that get results and not the notebook: no people, no notes, no serials, no time of day, no photos. */
export const isOutside = (audience: Audience): boolean => audience === 'planner' || audience === 'public';
