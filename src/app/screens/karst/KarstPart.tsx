import { type ReactNode, useState } from 'react';

/** A part of the margin that lies closed; nothing in it is made before it is opened. */
export function KarstPart({ name, children }: { name: string; children: ReactNode }) {
  const [open, setOpen] = useState(false);
  return (
    <details className="karst-part" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{name}</summary>
      {open && <div className="karst-inside">{children}</div>}
    </details>
  );
}
