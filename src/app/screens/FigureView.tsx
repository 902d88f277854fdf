import { useEffect, useRef, useState } from 'react';
import { figureElement, marksOf } from '../figure-element';
import { saveFile, savePng } from '../save-file';

export interface FigureViewProps {
  /** As the page shows it. */
  readonly svg: string;
  readonly selectedSid: string;
  readonly onSelect: (sid: string) => void;
  /** What it is called, within a sentence. */
  readonly name: string;
  /** The same figure for a file, made when it is asked for. */
  readonly forFile: () => string;
  readonly fileName: string;
}

/** How far the arrow keys go along the marks. */
const STEPS: Readonly<Record<string, number>> = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 };

/** A figure whose marks lead to their readings: by a tap anywhere above or below them, or with the keyboard. */
export function FigureView({ svg, selectedSid, onSelect, name, forFile, fileName }: FigureViewProps) {
  const place = useRef<HTMLDivElement>(null);
  const [refused, setRefused] = useState('');
  const selected = useRef(onSelect);

  useEffect(() => {
    selected.current = onSelect;
  }, [onSelect]);

  useEffect(() => {
    const host = place.current;
    if (!host) return;
    const figure = figureElement(svg, selectedSid);
    const markAt = (event: Event): SVGElement | null =>
      event.target instanceof Element ? event.target.closest<SVGElement>('[data-sid]') : null;
    const open = (event: Event): void => {
      const sid = markAt(event)?.dataset.sid;
      if (sid && sid !== selectedSid) selected.current(sid);
    };
    const onKey = (event: KeyboardEvent): void => {
      const mark = markAt(event);
      if (!mark) return;
      const step = STEPS[event.key];
      if (event.key === 'Enter' || event.key === ' ') open(event);
      else if (step !== undefined) moveFocus(marksOf(figure), mark, step);
      else return;
      event.preventDefault();
    };
    figure.addEventListener('click', open);
    figure.addEventListener('keydown', onKey);
    host.replaceChildren(figure);
    return () => host.replaceChildren();
  }, [svg, selectedSid]);

  return (
    <div className="figure">
      <div ref={place} className="figure-place" />
      <button type="button" className="cell-button" onClick={() => saveFile(fileName, forFile(), 'image/svg+xml')}>
        Download this {name} (SVG)
      </button>{' '}
      <button
        type="button"
        className="cell-button"
        aria-label={`Download this ${name} as PNG`}
        onClick={() => {
          savePng(fileName.replace(/svg$/, 'png'), forFile()).then(
            () => setRefused(''),
            (error: unknown) => setRefused(`No picture could be made (${String(error)}): take the SVG.`),
          );
        }}
      >
        PNG
      </button>
      {refused && <p role="alert">{refused}</p>}
    </div>
  );
}

function moveFocus(marks: readonly SVGElement[], from: SVGElement, step: number): void {
  const to = marks[marks.indexOf(from) + step];
  if (!to) return;
  from.setAttribute('tabindex', '-1');
  to.setAttribute('tabindex', '0');
  to.focus();
}
