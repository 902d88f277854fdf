import type { Line, Survey } from '../../survey/survey';
import { counted, nameList } from '../../survey/wording';
import type { Draft, LineDraft, Source } from './draft';
import type { Notebook } from './notebook';
import type { PlacesFormat, PlaceVertex } from './places-file';
import type { FilePlaces } from './places-map';
import { Sheet } from './sheet';

export type Layout = NonNullable<Line['layout']>;

/** The draft as one file of places adds to it, and what is to be said of that. */
export class PlacesDrafting {
  /** Fixes and remote electrodes that went into the draft. */
  taken = 0;
  /** Lines of the survey by their names. */
  readonly known = new Map<string, Line>();
  /** Lines that this file draws. */
  readonly drawnLines = new Set<string>();
  /** Lines whose chainages had to be measured. */
  readonly measured: string[] = [];
  private readonly sheet: Sheet;

  constructor(
    readonly format: PlacesFormat,
    readonly map: FilePlaces | null,
    readonly draft: Draft,
    into: Survey | undefined,
    readonly notes: Notebook,
  ) {
    this.sheet = new Sheet('positions', notes, [], null, null, new Map(), new Map(), new Map(), new Map(), [], '.');
    for (const line of into?.lines ?? []) {
      if (!line.retired && !this.known.has(line.name)) this.known.set(line.name, line);
    }
  }

  source(row: number): Source {
    return { sheet: this.sheet, row: { row, cells: [] } };
  }

  skip(row: number, read: string, expected: string, sentence: string): void {
    this.notes.skipped(this.where(row), read, expected, `${this.notes.label}: ${sentence}`);
  }

  guessed(row: number | null, read: string, expected: string, sentence: string): void {
    this.notes.guessed(this.where(row), read, expected, `${this.notes.label}: ${sentence}`);
  }

  /** Rows of GeoJSON are features, not lines of the file. */
  private where(row: number | null) {
    if (this.format !== 'geojson' || row === null) return { row, column: null };
    return { row: null, column: `features.${row - 1}` };
  }

  layoutOf(line: string): Layout | null {
    return this.draft.lines.get(line)?.layout ?? this.known.get(line)?.layout ?? null;
  }

  fix(line: LineDraft, chainageM: number, vertex: PlaceVertex, isTrack: boolean): void {
    const { lonLat, row } = vertex;
    const { elevation_m: heightM, ...rest } = vertex.position;
    const hasHeight = typeof heightM === 'number';
    const position = isTrack && hasHeight ? { ...rest, recorded_elevation_m: heightM } : vertex.position;
    line.fixes.push({ chainageM, position, lonLat, source: this.source(row) });
    if (hasHeight && !isTrack) line.profile.push({ chainage_m: chainageM, height_m: heightM });
    this.taken += 1;
  }

  tellMeasured(): void {
    if (this.measured.length === 0) return;
    const lines =
      this.measured.length === 1
        ? `line ${this.measured[0]}`
        : `${this.measured.length} lines (${nameList(this.measured)})`;
    this.guessed(
      null,
      counted(this.measured.length, 'line'),
      'chainages, or step_m',
      `the chainages of ${lines} were measured from the first place on, since nothing says where the electrodes are. Give step_m if they stand at even distances.`,
    );
  }
}
