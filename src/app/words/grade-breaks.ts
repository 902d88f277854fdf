import type { Settings } from '../../findings';

/** From which ratio on a reading is slight, clear or strong. */
export function breaksWords({ ratioBreaks, ratioBreaksTwoProbe, zThreshold }: Settings): string {
  const list = ([slight, clear, strong]: Settings['ratioBreaks']) => `${slight}, ${clear} and ${strong}`;
  return (
    `Slight, clear and strong begin at ratios of ${list(ratioBreaks)}, or their inverses, and ${zThreshold} standard ` +
    `errors; on two-probe lines at ${list(ratioBreaksTwoProbe)}.`
  );
}
