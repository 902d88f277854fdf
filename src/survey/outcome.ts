/** A refusal is a value: a code for programs, a sentence for people that says what to do. */
export interface Refusal {
  readonly ok: false;
  readonly code: string;
  readonly sentence: string;
}

export interface Done<T> {
  readonly ok: true;
  readonly value: T;
}

export type Outcome<T> = Done<T> | Refusal;

export const done = <T>(value: T): Done<T> => ({ ok: true, value });
export const refuse = (code: string, sentence: string): Refusal => ({ ok: false, code, sentence });
