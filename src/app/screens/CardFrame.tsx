import { type ReactNode, useEffect, useRef } from 'react';
import type { Told } from '../words/describe-reading';

export interface CardFrameProps {
  readonly title: string;
  readonly verdict: ReactNode;
  readonly rows: readonly Told[];
  readonly onClose: () => void;
  /** Before the terms. */
  readonly children?: ReactNode;
  /** Behind them. */
  readonly after?: ReactNode;
}

/** A thing told in full: its name, the verdict, then term by term. The keyboard is taken to its name. */
export function CardFrame({ title, verdict, rows, onClose, children, after }: CardFrameProps) {
  const head = useRef<HTMLHeadingElement>(null);

  // biome-ignore lint/correctness/useExhaustiveDependencies: another title is another card
  useEffect(() => head.current?.focus({ preventScroll: true }), [title]);

  return (
    <article className="card" aria-labelledby="card-head">
      <div className="card-top">
        <h2 id="card-head" ref={head} tabIndex={-1}>
          {title}
        </h2>
        <button type="button" className="line-button" onClick={onClose}>
          Back
        </button>
      </div>
      <p className="verdict">{verdict}</p>
      {children}
      <dl className="told">
        {rows.map(({ term, words }) => (
          <div key={term}>
            <dt>{term}</dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
      {after}
    </article>
  );
}
