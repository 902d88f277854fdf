import type { Content } from '../state/app-state';

/** Whose ground this is; that it is invented, where it is. */
export function MapHeader({ content }: { content: Content | null }) {
  if (!content) return null;
  const { site } = content.survey;
  return (
    <header className="map-header">
      <h1>{site.name}</h1>
      {site.invented && <p>Invented site</p>}
    </header>
  );
}
