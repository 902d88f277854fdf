import { type ReactNode, useEffect, useId, useRef, useState } from 'react';

export interface ReasonFormProps {
  readonly label: string;
  readonly action: string;
  /** Takes the reason; gives the sentence of a refusal, or null. */
  readonly onReason: (reason: string) => Promise<string | null>;
  readonly onCancel: () => void;
  /** Before the reason. */
  readonly children?: ReactNode;
}

/** Asks why, in place; Escape leaves without asking further. */
export function ReasonForm({ label, action, onReason, onCancel, children }: ReasonFormProps) {
  const [reason, setReason] = useState('');
  const [refused, setRefused] = useState<string | null>(null);
  const field = useRef<HTMLInputElement>(null);
  const id = useId();

  useEffect(() => field.current?.focus(), []);

  return (
    <form
      className="reason"
      onSubmit={(event) => {
        event.preventDefault();
        void onReason(reason).then(setRefused);
      }}
      onKeyDown={(event) => {
        if (event.key !== 'Escape') return;
        event.stopPropagation();
        onCancel();
      }}
    >
      {children}
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        ref={field}
        type="text"
        autoComplete="off"
        value={reason}
        aria-invalid={refused !== null}
        aria-describedby={refused === null ? undefined : `${id}-refused`}
        onChange={(event) => setReason(event.target.value)}
      />
      {refused !== null && (
        <p className="refused" id={`${id}-refused`} role="alert">
          {refused}
        </p>
      )}
      <div className="reason-buttons">
        <button type="submit" className="line-button strong-button">
          {action}
        </button>
        <button type="button" className="line-button" onClick={onCancel}>
          Cancel
        </button>
      </div>
    </form>
  );
}
