/** What whoever shares a survey says of the share. */
export interface ShareTerms {
  /** When it is made, ISO 8601: a day or a moment. Part of the share, so that the same input gives the same bytes. */
  readonly madeAt: string;
  /** Whom to ask. */
  readonly contact: string | null;
  /** Under which terms it may be used: the user's own, never ours. */
  readonly licence: string | null;
  /** Instead of the name of the site. */
  readonly title: string | null;
}
