import { circular, sum } from './covariance';
import { type Fit, fitLine } from './fit-line';
import { hingesOf } from './hinges';
import type { LeftOver } from './left-over';
import type { LineData, PlaneFix, Supposition } from './line-data';
import { sigmasOf } from './normal';
import { type Costs, costsOf } from './shape-costs';

/** At most this share of the fixes of a line may be gross: beyond it there is no telling which are. */
const MOST_GROSS_SHARE = 1 / 3;
const MOST_ROUNDS = 40;
/** So many decide whether a line of many fixes is straight with corners or winds all along. */
const FIRST_ROUNDS = 3;
/** Shapes that cost more than this over the best have chances under 3 %. */
const LIKELY_COST = 7;
/** Shapes that are together less likely than this do not show in a radius that holds 95 %. */
const UNLIKELY_SHARE = 0.03;
/** On a line of more fixes than this only one beginning is followed. */
const MANY_FIXES = 12;
/** Good enough to compare suppositions by. */
const ROUGH_M = 1e-4;
/** Corners nearer than this many standard deviations to the straight between their neighbours are tried without. */
const FLAT_CORNER_SIGMAS = 5;

export interface LineShape {
  readonly fit: Fit;
  /** How each fix agrees with all the others, as if all of its error were its own. */
  readonly leftOver: readonly LeftOver[];
  /** Fixes that contradict the others, and which the fit therefore hardly listens to. */
  readonly gross: ReadonlySet<number>;
  /**
   * Null when fixes, tape and legs agree; else by how many metres they do not, with nothing to tell which is wrong.
   */
  readonly disagreementM: number | null;
  /** Shapes that explain the line nearly as well: what the choice between them leaves unsure. */
  readonly rivals: readonly Rival[];
}

export interface Rival {
  readonly chance: number;
  /** By node, metres from the fit. */
  readonly dx: readonly number[];
  readonly dy: readonly number[];
}

/**
 * The line that explains its fixes, tape and legs with the fewest corners and gross errors. A corner, a gross error or a
 * wrong nominal distance is supposed where it lowers the squares left over by more than it costs: k corners k ln n
 * (the Bayesian information criterion, Schwarz 1978) and twice the logarithm of the ways to choose them (Chen & Chen
 * 2008, doi 10.1093/biomet/asn034); a gross error what an honest fix does once in 370, or as two unknowns where there
 * are many fixes to choose from.
 * A bend keeps the taped length between fixes and a gross error in the middle of a line makes it longer, so tape and
 * fixes together tell one from the other. At the end of a line they cannot: that is a corner.
 * Null when the data do not determine a line.
 */
export function lineShape(data: LineData, saidCorners: readonly number[]): LineShape | null {
  const cautious = withoutSharing(data);
  const costs = costsOf(data, saidCorners.length);
  const looked: Looked = [];
  let found = bestShape(cautious, saidCorners, costs, true, looked);
  let off = found && disagreement(found, costs);
  if (found && off !== null && found.supposition.gross.size > 0) {
    // Naming some did not make the rest agree: then nothing tells which are wrong, and all are as unsure as they differ.
    const listened = bestShape(cautious, saidCorners, costs, false, looked) ?? found;
    off = disagreement(listened, costs) ?? off;
    found = listened;
  }
  const fit = found && fitLine(data, found.supposition, undefined, found);
  if (!found || !fit) return null;
  return {
    fit,
    leftOver: found.leftOver(),
    gross: new Set(found.supposition.gross.keys()),
    disagreementM: off,
    // A contradiction has no rival that explains it.
    rivals: off === null ? rivalsOf(found, looked, costs) : [],
  };
}

/** Every fit that was tried on the way. */
type Looked = Fit[];

/** The fit of a supposition that was tried before. Gross errors are each time taken to be off by other metres. */
function lookedAt(other: Supposition, looked: Looked): Fit | undefined {
  if (other.gross.size > 0) return undefined;
  const key = keyOf(other);
  return looked.find(({ supposition }) => supposition.gross.size === 0 && keyOf(supposition) === key);
}

/** Other shapes of a line that cost little more, each with its chance by the criterion and how far its nodes lie off. */
function rivalsOf(found: Fit, looked: Looked, costs: Costs): readonly Rival[] {
  const least = costs.of(found);
  const seen = new Set([keyOf(found.supposition)]);
  const near = looked.filter((fit) => {
    const key = keyOf(fit.supposition);
    if (seen.has(key) || costs.of(fit) > least + LIKELY_COST) return false;
    seen.add(key);
    return true;
  });
  if (near.length === 0) return [];
  const chances = near.map((fit) => Math.exp((least - costs.of(fit)) / 2));
  const total = chances.reduce((all, chance) => all + chance, 1);
  const byChance = near.map((fit, i) => ({ fit, chance: (chances[i] as number) / total }));
  byChance.sort((p, q) => p.chance - q.chance);
  let unlikely = 0;
  while (byChance[0] && unlikely + byChance[0].chance < UNLIKELY_SHARE) unlikely += byChance.shift()?.chance ?? 0;
  return byChance.map(({ fit, chance }) => ({
    chance,
    dx: fit.x.map((x, k) => x - (found.x[k] as number)),
    dy: fit.y.map((y, k) => y - (found.y[k] as number)),
  }));
}

const keyOf = ({ corners, gross, freeScale }: Supposition): string =>
  `${[...corners].sort((p, q) => p - q).join()}|${[...gross.keys()].sort((p, q) => p - q).join()}|${freeScale}`;

/**
 * Nobody knows how much of their error fixes share. A corner or a gross error is therefore only supposed where it would
 * be one even if they shared nothing.
 */
function withoutSharing(data: LineData): LineData {
  const fixes = data.fixes.map((fix) => ({
    ...fix,
    own: sum(fix.own, circular(fix.sharedSigmaM)),
    sharedSigmaM: 0,
    group: 0,
  }));
  return { ...data, fixes, groupCount: 0 };
}

/**
 * From a straight line on; where that leaves something unexplained also from a line that turns at every fix. A line of
 * many fixes is only looked at from the side that explains it better.
 */
function bestShape(
  data: LineData,
  saidCorners: readonly number[],
  costs: Costs,
  mayBeGross: boolean,
  looked: Looked,
): Fit | null {
  const supposed = (corners: readonly number[]): Fit | null =>
    fitLine(data, { corners, gross: new Map(), freeScale: false }, ROUGH_M);
  const searched = (start: Fit | null, rounds = MOST_ROUNDS): Fit | null => {
    if (start) looked.push(start);
    return search(data, start, saidCorners, costs, mayBeGross, looked, rounds);
  };
  const inner = new Set(data.fixes.map(({ node }) => node).filter((node) => node > 0 && node < data.nodes.length - 1));
  const straight = supposed(saidCorners);
  if (straight && isSettled(straight, costs)) return straight;
  if (inner.size === 0) return searched(straight);
  const everywhere = [...new Set([...saidCorners, ...inner])];
  if (inner.size > MANY_FIXES) {
    const some = searched(straight, FIRST_ROUNDS);
    const bent = supposed(everywhere);
    return searched(bent && (!some || costs.of(bent) < costs.of(some)) ? bent : some);
  }
  const found = searched(straight);
  if (found && found.supposition.gross.size === 0 && disagreement(found, costs) === null) return found;
  const bent = searched(supposed(everywhere));
  return bent && (!found || costs.of(bent) < costs.of(found)) ? bent : found;
}

/** No corner can gain, and no fix be off by, more than all that is left over. */
function isSettled({ squares, x, supposition: { corners } }: Fit, costs: Costs): boolean {
  const mayTurn = corners.length < x.length - 2;
  return squares < (mayTurn ? Math.min(costs.nextCorner(corners.length) - LIKELY_COST, costs.gross) : costs.gross);
}

const sigmasAt = (fit: Fit, i: number): number => {
  const left = fit.leftOver()[i];
  return left ? sigmasOf(left.gain, left.directions) : 0;
};

/** Whether a fix is farther from the others than an honest one would be, on a line of so many. */
function isOff(fit: Fit, i: number, { gross, grossSigmas }: Costs): boolean {
  const left = fit.leftOver()[i];
  if (!left) return false;
  return left.directions < 2 ? left.gain > grossSigmas ** 2 : left.gain > gross;
}

/** The largest distance from the others of a fix that is off and not taken for a gross error. */
function disagreement(fit: Fit, costs: Costs): number | null {
  let most: number | null = null;
  fit.leftOver().forEach(({ distanceM }, i) => {
    if (!fit.supposition.gross.has(i) && isOff(fit, i, costs)) most = Math.max(most ?? 0, distanceM);
  });
  return most;
}

function search(
  data: LineData,
  start: Fit | null,
  saidCorners: readonly number[],
  costs: Costs,
  mayBeGross: boolean,
  looked: Looked,
  rounds: number,
): Fit | null {
  const { fixes } = data;
  const costOf = costs.of;
  const better = (fit: Fit, others: readonly (Supposition | null)[]): Fit | null => {
    let best: Fit | null = null;
    for (const other of others) {
      if (!other) continue;
      const known = lookedAt(other, looked);
      const tried = known ?? fitLine(data, other, ROUGH_M);
      if (tried && !known) looked.push(tried);
      if (tried && costOf(tried) < costOf(best ?? fit) - 1e-6) best = tried;
    }
    return best;
  };

  let fit = start;
  for (let round = 0; fit && round < rounds; round += 1) {
    const now: Fit = fit;
    const { supposition } = now;
    const cornerCost = costs.nextCorner(supposition.corners.length);
    const settled = isSettled(now, costs);
    const hinges = settled ? [] : hingesOf(data, now).filter(({ gain }) => gain > cornerCost - LIKELY_COST);
    const most = hinges.reduce((best, hinge) => (hinge.gain > best.gain ? hinge : best), { node: -1, gain: 0 });
    const bent = (nodesBent: readonly number[]): Supposition | null =>
      nodesBent.length > 0 ? { ...supposition, corners: [...supposition.corners, ...nodesBent] } : null;
    const bends = [bent(hinges.map(({ node }) => node)), hinges.length > 1 ? bent([most.node]) : null];
    const errors = supposition.gross.size + (supposition.freeScale ? 1 : 0);
    const wrongs = (): (Supposition | null)[] =>
      settled
        ? []
        : [
            ...(mayBeGross ? withWorstFixes(data, now, saidCorners, costs) : []),
            fixedNodes(fixes) > 2 && !supposition.freeScale && now.leftOver().some((_, i) => isOff(now, i, costs))
              ? { ...supposition, freeScale: true }
              : null,
          ];
    const turned: Fit | null = better(now, bends);
    // Where a line has many fixes, or an error would cost more than the bend and be no rival, what bends is taken first.
    const isTaken = turned && (fixes.length > MANY_FIXES || costOf(turned) + LIKELY_COST < costs.gross * (errors + 1));
    const either: Fit | null = isTaken ? turned : (better(turned ?? now, wrongs()) ?? turned);
    const next: Fit | null = either ?? better(now, withoutFlatCorners(data, now, saidCorners));
    if (!next) break;
    fit = next;
  }
  return fit;
}

const fixedNodes = (fixes: readonly PlaneFix[]): number => new Set(fixes.map(({ node }) => node)).size;

/** Suppositions with one more gross error: the fixes farthest off first, as several may look alike. */
function withWorstFixes({ fixes }: LineData, fit: Fit, saidCorners: readonly number[], costs: Costs): Supposition[] {
  const { gross, corners } = fit.supposition;
  if (gross.size + 1 > MOST_GROSS_SHARE * fixes.length) return [];
  const off = fixes.flatMap(({ node }, i) =>
    !gross.has(i) && isOff(fit, i, costs) ? [{ i, node, sigmas: sigmasAt(fit, i) }] : [],
  );
  off.sort((p, q) => q.sigmas - p.sigmas);
  return off.slice(0, fixes.length > MANY_FIXES ? 1 : 4).map(({ i, node }) => ({
    ...fit.supposition,
    // A fix that does not count bends nothing.
    corners: corners.filter((corner) => corner !== node || saidCorners.includes(corner)),
    gross: new Map(gross).set(i, fit.leftOver()[i]?.distanceM ?? 0),
  }));
}

/** Suppositions without the corners that hardly turn: the flattest, all, the flatter half; said corners stay. */
function withoutFlatCorners({ fixes, nodes }: LineData, fit: Fit, said: readonly number[]): readonly Supposition[] {
  const { supposition } = fit;
  const flat = supposition.corners.flatMap((corner) => {
    if (said.includes(corner)) return [];
    const before = Math.max(0, ...supposition.corners.filter((other) => other < corner));
    const after = Math.min(nodes.length - 1, ...supposition.corners.filter((other) => other > corner));
    const dx = (fit.x[after] as number) - (fit.x[before] as number);
    const dy = (fit.y[after] as number) - (fit.y[before] as number);
    const rx = (fit.x[corner] as number) - (fit.x[before] as number);
    const ry = (fit.y[corner] as number) - (fit.y[before] as number);
    const aside = Math.abs(rx * dy - ry * dx) / Math.hypot(dx, dy);
    const own = fixes.find(({ node }) => node === corner)?.own;
    const sigma = own ? Math.sqrt(Math.max(own.xx, own.yy)) : Infinity;
    return aside < FLAT_CORNER_SIGMAS * sigma ? [{ corner, flatness: aside / sigma }] : [];
  });
  if (flat.length === 0) return [];
  flat.sort((p, q) => p.flatness - q.flatness);
  const without = (some: typeof flat): Supposition => {
    const gone = new Set(some.map(({ corner }) => corner));
    return { ...supposition, corners: supposition.corners.filter((corner) => !gone.has(corner)) };
  };
  const tried = [without(flat.slice(0, 1))];
  if (flat.length > 1) tried.push(without(flat));
  if (flat.length > 3) tried.push(without(flat.slice(0, flat.length >> 1)), without(flat.slice(0, flat.length >> 2)));
  return tried;
}
