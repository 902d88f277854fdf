import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

let collect: (() => void) | null = null;

/**
 * Gives back memory that is done with. The engine lets it stand until there is much more of it than is in use, which of a
 * large survey is more than a small machine has to spare.
 */
export function giveBack(): void {
  if (!collect) {
    setFlagsFromString('--expose-gc');
    collect = runInNewContext('gc') as () => void;
  }
  collect();
}
