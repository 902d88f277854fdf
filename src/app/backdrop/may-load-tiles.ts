/** Whether this is the page whose policy lets it ask other servers for tiles. It says so of itself when it is built. */
export const mayLoadTiles = (): boolean => document.querySelector('meta[name="hollowline-tiles"]') !== null;

/** The page beside this one, with the same survey. */
export const otherPage = (): string => `${mayLoadTiles() ? './' : './online.html'}${location.search}`;
