import type { Position } from '../../survey/survey';
import { type Draft, outingOf, type RemoteDraft } from './draft';
import { COORDINATES, hasPlace, noteUnusedPair, readPlace } from './place';
import type { Sheet } from './sheet';
import { readRole } from './vocabulary';

/** Reads a table of remote electrodes by outing into the draft. */
export function readRemotes(sheet: Sheet, draft: Draft): void {
  const troubles = sheet.notes.troubles;
  if (!sheet.has('outing')) sheet.missing('outing', 'outing');
  if (!sheet.has('role')) sheet.missing('role', 'role, one of A, B, M, N');
  if (!hasPlace(sheet)) sheet.missing('lon', COORDINATES);
  if (sheet.notes.troubles > troubles) return;
  noteUnusedPair(sheet);

  for (const row of sheet.rows) {
    const before = sheet.notes.troubles;
    const outing = sheet.required(row, 'outing', 'the name of an outing');
    const role = sheet.word(row, 'role', readRole, ['A', 'B', 'M', 'N']);
    if (role === null && sheet.notes.troubles === before) sheet.required(row, 'role', 'one of A, B, M, N');
    const place = readPlace(sheet, row);
    if (sheet.notes.troubles > before) continue;
    if (place === null) sheet.wrong(row, sheet.has('lon') ? 'lon' : 'easting', '', 'a place');
    else if (outing !== null && role !== null) {
      outingOf(draft, outing).push({ role, position: place.position, source: { sheet, row } });
    }
  }
}

/**
 * Gives the remote electrodes that came with a line to the outings of its readings. Where there are none, an outing with
 * the line's name is made, and readings without an outing join it.
 * One role of an outing at two places is a fault: readings would not know which was theirs.
 */
export function giveLineRemotesToOutings(draft: Draft): void {
  const withRemotes = [...draft.lines.values()].filter((line) => line.remotes.length > 0);
  const outings = new Map(withRemotes.map((line) => [line.name, new Set<string>()]));
  for (const reading of draft.readings) {
    const ofLine = outings.get(reading.line);
    if (!ofLine) continue;
    reading.outing ??= reading.line;
    ofLine.add(reading.outing);
  }
  for (const line of withRemotes) {
    const names = outings.get(line.name) ?? new Set();
    if (names.size === 0) names.add(line.name);
    for (const name of names) {
      const ofOuting = outingOf(draft, name);
      // One by one: a spread of very many would overflow the stack.
      for (const remote of line.remotes) ofOuting.push(remote);
    }
  }
  for (const [name, remotes] of draft.outings) {
    const byRole = new Map<string, RemoteDraft>();
    for (const remote of remotes) {
      const before = byRole.get(remote.role);
      if (!before) byRole.set(remote.role, remote);
      else if (!samePlace(before.position, remote.position)) {
        const { sheet, row } = remote.source;
        sheet.notes.fault(
          sheet.where(row, sheet.kind === 'remotes' ? 'role' : 'remote_lon'),
          `${remote.position.x}, ${remote.position.y}`,
          `one place for electrode ${remote.role} of outing ${name}`,
          `${sheet.file}, row ${row.row}: outing ${name} has electrode ${remote.role} at two places. Give the readings an outing of their own for each.`,
        );
      }
    }
    draft.outings.set(name, [...byRole.values()]);
  }
}

const samePlace = (p: Position, q: Position): boolean => p.x === q.x && p.y === q.y && p.crs === q.crs;
