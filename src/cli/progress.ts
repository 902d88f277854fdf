/** Says on a terminal how far a slow verb is, on a line that is wiped at the end; nothing elsewhere. */
export function progress(verb: string): (fraction: number) => void {
  if (!process.stderr.isTTY) return () => undefined;
  return (fraction) => {
    process.stderr.write(fraction < 1 ? `\r${verb} ${Math.floor(100 * fraction)} % ` : '\r\u001b[K');
  };
}
