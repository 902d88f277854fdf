import type { Settings } from '../../findings';

/** "1.1, 1.25, 1.6 times": from which ratio on a reading is slight, clear, strong, and the same downwards. */
export function breaksWords(settings: Settings): string {
  const list = (breaks: readonly number[]) => breaks.join(', ');
  return (
    `Slight, clear and strong begin at ${list(settings.ratioBreaks)} times the reference, or the same parts of it, ` +
    `and at ${settings.zThreshold} standard errors; on two-probe lines at ${list(settings.ratioBreaksTwoProbe)} times.`
  );
}
