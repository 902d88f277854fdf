/*
 * What is to be done next about a zone: told to whoever can go and read again, and asked of them by whoever cannot.
 */

export interface ZoneStep {
  readonly todo: string;
  readonly toAsk: string;
}

/** By what the zone is most likely to be; `searched_in_vain`: a search has been here and found that it needs no void. */
export const ZONE_STEPS = {
  void_like: {
    todo: 'Repeat its strongest readings with re-driven rods, then read a line that crosses it.',
    toAsk: 'Before anything is decided on it, ask for its strongest readings to be repeated and for a line across it.',
  },
  layer_like: {
    todo: 'Probe the soil depth here and at the reference.',
    toAsk: 'Ask for the soil depth to be probed here and at the reference.',
  },
  contact_like: {
    todo: 'Wet or re-drive the rods and read again.',
    toAsk: 'Ask for readings with the rods wetted or driven anew.',
  },
  unresolved: {
    todo: 'Ask for the search along the line, and take the readings proposed below.',
    toAsk: 'Ask for a search along the line and for more readings here: they can tell these apart.',
  },
  searched_in_vain: {
    todo: 'Repeat it with re-driven rods if it matters; a smaller or deeper void than the search could find is not ruled out.',
    toAsk:
      'If it matters, ask for it to be read again; a smaller or deeper void than the search could find is not ruled out.',
  },
} as const satisfies Record<string, ZoneStep>;

/** A paragraph about a zone for somebody who takes no readings. */
export const forOutsiders = (paragraph: string): string =>
  Object.values(ZONE_STEPS).reduce((text, { todo, toAsk }) => text.replace(todo, toAsk), paragraph);
