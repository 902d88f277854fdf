import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import type { Outcome } from '../survey/outcome';

/** A two-probe reading between two seatings. A re-driven rod is a new contact, so a seating of its own. */
export interface ContactLink {
  readonly seatings: readonly [string, string];
  /** Which ground it reads: readings of one name share one ρ (a line, a stretch of it, a station). */
  readonly ground: string;
  readonly spacingM: number;
  readonly resistanceOhm: number;
  /** Standard error of R in ohms, above 0. */
  readonly sigmaOhm: number;
}

/**
 * What the readings say of one contact.
 * `fixed`: its value. `against_others`: only how it differs from the mean of the seatings in `among`.
 * `not_known`: nothing, whatever the readings had been.
 */
export interface SeatingContact {
  readonly seating: string;
  readonly known: 'fixed' | 'against_others' | 'not_known';
  /** Rc in ohms, or its difference from the mean of `among`; null where not known. */
  readonly contactOhm: number | null;
  readonly sigmaOhm: number | null;
  /** The seatings that it is known against, itself included; empty unless `against_others`. */
  readonly among: readonly string[];
  /** For people: what is missing and what reading would help; empty where fixed. */
  readonly sentence: string;
}

export interface GroundTerm {
  readonly ground: string;
  readonly fixed: boolean;
  /** ρ in Ω·m as it weighs on these readings; null where not fixed. Not to be shown as a resistivity. */
  readonly groundOhmM: number | null;
  readonly sigmaOhmM: number | null;
}

export interface ContactNetwork {
  readonly seatings: readonly SeatingContact[];
  readonly grounds: readonly GroundTerm[];
  /** R less its fit, ohms, reading by reading. */
  readonly residualsOhm: Float64Array;
  /** Readings less what they fix. */
  readonly degreesOfFreedom: number;
  /** Sum of squared residuals over their σ. */
  readonly chiSquare: number;
}

/** Eigenvalues of the normal equations below this share of the largest are zeros that rounding has filled. */
const ZERO = 1e-11;
/** Rows of the null space that are equal but for rounding. */
const SAME = 1e-6;

/**
 * Contacts of all seatings of a network of two-probe readings by least squares: R = Rc₁ + Rc₂ − ρ/(πa).
 *
 * What can be known is a matter of the network, not of the readings. With ρ given, contacts of a group of seatings can
 * be raised on one side and lowered on the other without any reading noticing, as long as every reading goes from one
 * side to the other (a bipartite graph: any ladder about a common rod, any line walked at one spacing); one closed round
 * of an odd number of readings (a triangle) fixes them all. An unknown ρ takes one more away unless spacings differ. All
 * of it is read from the null space of the equations (eigenvectors of the normal equations: Golub & Van Loan 2013, §5.5): a contact is fixed
 * when no null vector moves it, and two contacts are known against each other when all move them alike.
 * `groundOhmM` gives ρ where it is known from elsewhere; its error is then not in the ranges.
 * Refusals: `no_readings`, `rod_against_itself`, `sigma_not_positive`.
 */
export function contactNetwork(
  links: readonly ContactLink[],
  groundOhmM: number | null = null,
): Outcome<ContactNetwork> {
  const refusal = refusalOf(links);
  if (refusal) return refusal;
  const seatings = [...new Set(links.flatMap((link) => link.seatings))];
  const grounds = groundOhmM === null ? [...new Set(links.map(({ ground }) => ground))] : [];
  const unknowns = seatings.length + grounds.length;
  const scaleM = links.reduce((sum, { spacingM }) => sum + spacingM, 0) / links.length;
  const seatingAt = new Map(seatings.map((seating, i) => [seating, i]));
  const groundAt = new Map(grounds.map((ground, i) => [ground, seatings.length + i]));

  const design = Matrix.zeros(links.length, unknowns);
  const right = new Float64Array(links.length);
  for (const [k, link] of links.entries()) {
    for (const seating of link.seatings) design.set(k, seatingAt.get(seating) as number, 1 / link.sigmaOhm);
    const ground = groundAt.get(link.ground);
    // The unknown is ρ/(π·scale), an ohm like the contacts.
    if (ground !== undefined) design.set(k, ground, -scaleM / link.spacingM / link.sigmaOhm);
    right[k] = (link.resistanceOhm + (groundOhmM ?? 0) / (Math.PI * link.spacingM)) / link.sigmaOhm;
  }
  const solution = solveLeastNorm(design, right, unknowns);

  const groups = groupsOf(solution.nullRows.slice(0, seatings.length));
  const contacts = seatings.map((seating, i): SeatingContact => {
    if (isStill(solution.nullRows[i])) {
      const known = solution.combine([[i, 1]]);
      return { seating, known: 'fixed', contactOhm: known.value, sigmaOhm: known.sigma, among: [], sentence: '' };
    }
    const group = groups.find((members) => members.includes(i)) ?? [i];
    const among = group.map((member) => seatings[member] as string);
    if (group.length === 1) {
      return {
        seating,
        known: 'not_known',
        contactOhm: null,
        sigmaOhm: null,
        among: [],
        sentence: unknownSentence(seating),
      };
    }
    const known = solution.combine(group.map((member) => [member, (member === i ? 1 : 0) - 1 / group.length]));
    const sentence = relativeSentence(seating, group.length - 1);
    return { seating, known: 'against_others', contactOhm: known.value, sigmaOhm: known.sigma, among, sentence };
  });
  const terms = grounds.map((ground, i): GroundTerm => {
    const at = seatings.length + i;
    if (!isStill(solution.nullRows[at])) return { ground, fixed: false, groundOhmM: null, sigmaOhmM: null };
    const known = solution.combine([[at, Math.PI * scaleM]]);
    return { ground, fixed: true, groundOhmM: known.value, sigmaOhmM: known.sigma };
  });

  const residualsOhm = new Float64Array(links.length);
  let chiSquare = 0;
  for (const [k, { sigmaOhm }] of links.entries()) {
    let fitted = 0;
    for (let i = 0; i < unknowns; i += 1) fitted += design.get(k, i) * (solution.values[i] as number);
    const residual = (right[k] as number) - fitted;
    residualsOhm[k] = residual * sigmaOhm;
    chiSquare += residual * residual;
  }
  const degreesOfFreedom = links.length - solution.rank;
  return { ok: true, value: { seatings: contacts, grounds: terms, residualsOhm, degreesOfFreedom, chiSquare } };
}

function refusalOf(links: readonly ContactLink[]) {
  if (links.length === 0) {
    return {
      ok: false,
      code: 'no_readings',
      sentence: 'Contacts need two-probe readings whose seatings are named.',
    } as const;
  }
  for (const { seatings, sigmaOhm } of links) {
    if (seatings[0] === seatings[1]) {
      const sentence = `A reading names the seating ${seatings[0]} for both of its rods: give each rod its own.`;
      return { ok: false, code: 'rod_against_itself', sentence } as const;
    }
    if (!(sigmaOhm > 0)) {
      const sentence = 'Every reading needs a standard error above 0 ohms.';
      return { ok: false, code: 'sigma_not_positive', sentence } as const;
    }
  }
  return null;
}

interface LeastNorm {
  readonly values: Float64Array;
  readonly rank: number;
  /** One row an unknown: how the null vectors move it. */
  readonly nullRows: readonly Float64Array[];
  /** Value and standard error of a weighted sum of unknowns that no null vector moves. */
  combine(weights: readonly (readonly [number, number])[]): { readonly value: number; readonly sigma: number };
}

function solveLeastNorm(design: Matrix, right: Float64Array, unknowns: number): LeastNorm {
  const transposed = design.transpose();
  const { realEigenvalues, eigenvectorMatrix: vectors } = new EigenvalueDecomposition(transposed.mmul(design), {
    assumeSymmetric: true,
  });
  const along = transposed.mmul(Matrix.columnVector(right)).to1DArray();
  const limit = ZERO * Math.max(...realEigenvalues);
  const kept: number[] = [];
  const lost: number[] = [];
  for (const [s, value] of realEigenvalues.entries()) (value > limit ? kept : lost).push(s);
  const values = new Float64Array(unknowns);
  for (const s of kept) {
    let length = 0;
    for (let i = 0; i < unknowns; i += 1) length += vectors.get(i, s) * (along[i] as number);
    length /= realEigenvalues[s] as number;
    for (let i = 0; i < unknowns; i += 1) values[i] = (values[i] as number) + length * vectors.get(i, s);
  }
  return {
    values,
    rank: kept.length,
    nullRows: Array.from({ length: unknowns }, (_, i) => Float64Array.from(lost, (s) => vectors.get(i, s))),
    combine(weights) {
      let value = 0;
      for (const [i, weight] of weights) value += weight * (values[i] as number);
      let variance = 0;
      for (const s of kept) {
        let length = 0;
        for (const [i, weight] of weights) length += weight * vectors.get(i, s);
        variance += (length * length) / (realEigenvalues[s] as number);
      }
      return { value, sigma: Math.sqrt(variance) };
    },
  };
}

const isStill = (row: Float64Array | undefined): boolean => !row?.some((value) => Math.abs(value) > SAME);

/** Indices of rows that every null vector moves alike. */
function groupsOf(rows: readonly Float64Array[]): number[][] {
  const groups: number[][] = [];
  for (const [i, row] of rows.entries()) {
    const group = groups.find(([first]) => {
      const other = rows[first as number] as Float64Array;
      return row.every((value, s) => Math.abs(value - (other[s] as number)) <= SAME);
    });
    if (group) group.push(i);
    else groups.push([i]);
  }
  return groups;
}

const unknownSentence = (seating: string): string =>
  `The contact of ${seating} cannot be told from that of the rods it was read against. ` +
  'Read three rods in a triangle, each against the others, at more than one spacing.';

const relativeSentence = (seating: string, others: number): string =>
  `The contact of ${seating} is known only against ${others} other${others === 1 ? '' : 's'}, not in itself. ` +
  'Read three rods in a triangle, each against the others, at more than one spacing.';
