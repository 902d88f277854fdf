import { type FormEvent, type ReactNode, useId, useState } from 'react';

/** What was typed or chosen under a name; empty where there is none. */
export type Said = (name: string) => string;

export interface AskFormProps {
  readonly label: string;
  readonly action: string;
  /** Takes what was said; gives the sentence of a refusal, or null. */
  readonly onSaid: (said: Said) => Promise<string | null> | string | null;
  readonly onCancel?: (() => void) | undefined;
  readonly children: ReactNode;
}

/** Asks for some things and keeps what was typed when it is refused. Escape leaves without asking further. */
export function AskForm({ label, action, onSaid, onCancel, children }: AskFormProps) {
  const [refused, setRefused] = useState<string | null>(null);
  const id = useId();
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    setRefused(await onSaid((name) => String(data.get(name) ?? '')));
  };
  return (
    <form
      className="ask"
      aria-label={label}
      aria-describedby={refused === null ? undefined : id}
      onSubmit={(event) => void submit(event)}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onCancel?.();
      }}
    >
      {children}
      {refused !== null && (
        <p className="refused" role="alert" id={id}>
          {refused}
        </p>
      )}
      <div className="ask-buttons">
        <button type="submit" className="line-button strong-button">
          {action}
        </button>
        {onCancel && (
          <button type="button" className="line-button" onClick={onCancel}>
            Cancel
          </button>
        )}
      </div>
    </form>
  );
}
