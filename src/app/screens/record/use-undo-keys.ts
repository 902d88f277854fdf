import { useEffect } from 'react';
import { useApp } from '../../app-context';
import { redo, undo } from '../../edit';

/** A field that has an undo of its own. */
function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement &&
    (target.isContentEditable ||
      target instanceof HTMLTextAreaElement ||
      (target instanceof HTMLInputElement && !['checkbox', 'radio', 'button', 'range'].includes(target.type)))
  );
}

/** Ctrl+Z takes the last edit back and Ctrl+Shift+Z (or Ctrl+Y) does it again, wherever nobody is typing. */
export function useUndoKeys(): void {
  const parts = useApp();
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey || isTyping(event.target)) return;
      const key = event.key.toLowerCase();
      const again = (key === 'z' && event.shiftKey) || (key === 'y' && !event.shiftKey);
      if (!again && key !== 'z') return;
      event.preventDefault();
      void (again ? redo(parts) : undo(parts));
    };
    document.addEventListener('keydown', onKey);
    return () => document.removeEventListener('keydown', onKey);
  }, [parts]);
}
