import { here, useHere } from '../../field/position/here';

/** Shows where the device is, or stops: it is never asked by itself. */
export function HereButton() {
  const on = useHere().position.kind !== 'off';
  return (
    <button
      type="button"
      className="tool here-tool"
      aria-label="Where I am"
      aria-pressed={on}
      onClick={() => (on ? here.hide() : here.show())}
    >
      <svg viewBox="0 0 24 24" aria-hidden="true">
        <path d="M12 1v6M12 17v6M1 12h6M17 12h6" />
        <circle cx="12" cy="12" r="5" />
      </svg>
    </button>
  );
}
