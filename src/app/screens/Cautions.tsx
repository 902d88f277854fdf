import { useState } from 'react';
import { CAUTIONS } from '../../survey/cautions';
import { remember, remembered } from '../remembered';

/** The cautions: open until a person has put them away once on this device. */
export function Cautions() {
  const [open, setOpen] = useState(() => remembered('cautions_read') === null);
  return (
    <details
      className="cautions"
      open={open}
      onToggle={(event) => {
        const isOpen = event.currentTarget.open;
        if (!isOpen) remember('cautions_read', 'yes');
        setOpen(isOpen);
      }}
    >
      <summary>Before you go out</summary>
      <ul>
        {CAUTIONS.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </details>
  );
}
