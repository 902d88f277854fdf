import table from '../../styles/ramp.json' with { type: 'json' };
import type { ZoneVerdict } from '../findings';
import { type FigureLook, fileLook } from './look';

/** How a map of a site is drawn, its height included. */
export interface SiteMapLook extends FigureLook {
  readonly heightPx: number;
  readonly zone: Readonly<Record<ZoneVerdict, string>>;
  readonly grid: string;
}

/** A map that needs nothing around it, on paper by day. */
export function fileMapLook(widthPx: number, heightPx: number): SiteMapLook {
  return { ...fileLook(widthPx), heightPx, zone: table.zone.light, grid: '#d6cbae' };
}

/** A map in a page that says its colours as custom properties, so that it follows the page by night. */
export function themedMapLook(widthPx: number, heightPx: number): SiteMapLook {
  return {
    ...fileLook(widthPx),
    heightPx,
    ink: 'var(--ink)',
    inkSoft: 'var(--ink-soft)',
    rule: 'var(--rule-strong)',
    paper: 'var(--map-paper)',
    accent: 'var(--accent)',
    grid: 'var(--map-grid)',
    stroke: keyed(Object.keys(table.stroke.light) as (keyof typeof table.stroke.light)[], 'stroke'),
    zone: keyed(Object.keys(table.zone.light) as ZoneVerdict[], 'zone'),
  };
}

const keyed = <K extends string>(keys: readonly K[], kind: string): Record<K, string> =>
  Object.fromEntries(keys.map((key) => [key, `var(--${kind}-${key})`])) as Record<K, string>;

/** The custom properties that a themed map takes its finding colours from, as CSS declarations. */
export function themeProperties(theme: 'light' | 'dark'): string {
  const said = (kind: 'stroke' | 'zone') =>
    Object.entries(table[kind][theme]).map(([key, colour]) => `--${kind}-${key}:${colour};`);
  return [...said('stroke'), ...said('zone')].join('');
}
