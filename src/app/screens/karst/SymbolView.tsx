import { REJECTED, SYMBOLS, symbolOf } from '../../../map/feature-symbols';

/** The symbol of a feature as it is on the map. */
export function SymbolView({ type, rejected = false }: { type: string; rejected?: boolean }) {
  const colour = { ink: 'var(--ink)', paper: 'var(--map-paper)' };
  return (
    <svg className="feature-symbol" viewBox="0 0 24 24" width="24" height="24" aria-hidden="true">
      {[...SYMBOLS[symbolOf(type)], ...(rejected ? REJECTED : [])].map(({ d, fill, stroke, width, dash }) => (
        <path
          key={`${d}${stroke}`}
          d={d}
          fill={fill ? colour[fill] : 'none'}
          stroke={stroke ? colour[stroke] : 'none'}
          strokeWidth={width}
          strokeDasharray={dash?.join(' ')}
          strokeLinejoin="round"
        />
      ))}
    </svg>
  );
}
