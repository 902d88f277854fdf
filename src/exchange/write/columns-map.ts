/** A columns map, whatever it says of its files. */
interface AnyColumnsMap {
  readonly files: Readonly<Record<string, object>>;
  /** The same for files of places, where there are any. */
  readonly places?: Readonly<Record<string, object>>;
}

/**
 * The text of a columns map: the file that `--columns` takes on the command line.
 * Keys that say nothing (undefined) are left out, as the reader wants it.
 */
export function columnsMapText({ files, places }: AnyColumnsMap): string {
  return `${JSON.stringify({ files, places }, null, 2)}\n`;
}
