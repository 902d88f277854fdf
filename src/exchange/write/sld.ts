import ramp from '../../../styles/ramp.json';
import type { ZoneVerdict } from '../../findings';
import { xmlText } from './written-text';

/*
 * OGC Styled Layer Descriptor 1.0.0 (02-070): how segments and zones are drawn, by their codes. What no rule names is
 * drawn too, by an else rule.
 */

const ROOT =
  '<StyledLayerDescriptor version="1.0.0" xmlns="http://www.opengis.net/sld" xmlns:ogc="http://www.opengis.net/ogc" xmlns:xlink="http://www.w3.org/1999/xlink" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="http://www.opengis.net/sld http://schemas.opengis.net/sld/1.0.0/StyledLayerDescriptor.xsd">';

interface Rule {
  readonly name: string;
  readonly title: string;
  /** An OGC filter; null = what no other rule takes. */
  readonly filter: string | null;
  readonly symbolizer: string;
}

function document(layer: string, title: string, rules: readonly Rule[]): string {
  const written = rules.map(
    ({ name, title: said, filter, symbolizer }) =>
      `<Rule><Name>${name}</Name><Title>${xmlText(said)}</Title>${filter === null ? '<ElseFilter/>' : `<ogc:Filter>${filter}</ogc:Filter>`}${symbolizer}</Rule>\n`,
  );
  return `<?xml version="1.0" encoding="UTF-8"?>\n${ROOT}\n<NamedLayer><Name>${layer}</Name><UserStyle><Name>${layer}</Name><Title>${xmlText(title)}</Title><FeatureTypeStyle>\n${written.join('')}</FeatureTypeStyle></UserStyle></NamedLayer>\n</StyledLayerDescriptor>\n`;
}

const equals = (property: string, value: string): string =>
  `<ogc:PropertyIsEqualTo><ogc:PropertyName>${property}</ogc:PropertyName><ogc:Literal>${value}</ogc:Literal></ogc:PropertyIsEqualTo>`;
const both = (...filters: readonly string[]): string => `<ogc:And>${filters.join('')}</ogc:And>`;
const parameter = (name: string, value: string | number): string =>
  `<CssParameter name="${name}">${value}</CssParameter>`;

/** A round end would make a stroke look longer than its stretch. */
const stroke = (colour: string, width: number, dashes?: string): string =>
  `<Stroke>${parameter('stroke', colour)}${parameter('stroke-width', width)}${parameter('stroke-linecap', 'butt')}${dashes ? parameter('stroke-dasharray', dashes) : ''}</Stroke>`;
const lineSymbolizer = (inner: string): string => `<LineSymbolizer>${inner}</LineSymbolizer>`;

type RampKey = keyof typeof ramp.stroke.light;
const HINT_DASHES = '6 4';

/** Segments by grade and sign; those of two-probe readings are dashed, since they are hints and no findings. */
export function segmentsSld(): string {
  const graded = (['strong', 'clear', 'slight'] as const).flatMap((grade) =>
    (['above', 'below'] as const).flatMap((arm): Rule[] => {
      const key: RampKey = `${grade}_${arm}`;
      const [colour, width] = [ramp.stroke.light[key], ramp.stroke_width_px[key]];
      const is = [equals('grade', grade), equals('sign', `${arm}_reference`)];
      return [
        {
          name: key,
          title: `${grade}, ${arm} the reference`,
          filter: both(...is, equals('figure_kind', 'apparent_resistivity')),
          symbolizer: lineSymbolizer(stroke(colour, width)),
        },
        {
          name: `${key}_lead`,
          title: `two-probe hint, ${grade}, ${arm} the reference`,
          filter: both(...is, equals('figure_kind', 'two_probe')),
          symbolizer: lineSymbolizer(stroke(colour, width, HINT_DASHES)),
        },
      ];
    }),
  );
  const overRange =
    '<ogc:PropertyIsNull><ogc:PropertyName>figure_ohm_m</ogc:PropertyName></ogc:PropertyIsNull><ogc:PropertyIsLike wildCard="*" singleChar="?" escape="!"><ogc:PropertyName>doubts</ogc:PropertyName><ogc:Literal>*over_range*</ogc:Literal></ogc:PropertyIsLike>';
  const { none, over_range: over, not_graded: other } = ramp.stroke.light;
  const width = ramp.stroke_width_px;
  return document('segments', 'What was read along the lines, against the reference', [
    ...graded,
    {
      name: 'none',
      title: 'like the reference',
      filter: equals('grade', 'none'),
      symbolizer: lineSymbolizer(stroke(none, width.none)),
    },
    {
      name: 'over_range',
      title: 'over range: above what the meter shows',
      filter: both(overRange),
      symbolizer: lineSymbolizer(stroke(over, width.over_range, '2 3')),
    },
    {
      name: 'not_graded',
      title: 'not graded',
      filter: null,
      symbolizer: lineSymbolizer(stroke(other, width.not_graded)),
    },
  ]);
}

const VERDICT_TITLE: Readonly<Record<ZoneVerdict, string>> = {
  void_like: 'like a void; no proof of one',
  layer_like: 'like layered ground',
  contact_like: 'like contact of the rods',
  unresolved: 'not resolved',
};

/** Zones by verdict; those that are made of two-probe hints alone are filled with crosses instead of a colour. */
export function zonesSld(): string {
  const verdicts = Object.keys(VERDICT_TITLE) as ZoneVerdict[];
  const filled = (colour: string): string =>
    `<PolygonSymbolizer><Fill>${parameter('fill', colour)}${parameter('fill-opacity', 0.25)}</Fill>${stroke(colour, 2)}</PolygonSymbolizer>`;
  const crossed = (colour: string): string =>
    `<PolygonSymbolizer><Fill><GraphicFill><Graphic><Mark><WellKnownName>x</WellKnownName>${stroke(colour, 1)}</Mark><Size>8</Size></Graphic></GraphicFill></Fill>${stroke(colour, 1, HINT_DASHES)}</PolygonSymbolizer>`;
  const rules = verdicts.flatMap((verdict): Rule[] => {
    const colour = ramp.zone.light[verdict];
    const is = equals('verdict', verdict);
    return [
      {
        name: verdict,
        title: VERDICT_TITLE[verdict],
        filter: both(is, equals('figure_kind', 'apparent_resistivity')),
        symbolizer: filled(colour),
      },
      {
        name: `${verdict}_lead`,
        title: `two-probe hints only: ${VERDICT_TITLE[verdict]}`,
        filter: both(is, equals('figure_kind', 'two_probe')),
        symbolizer: crossed(colour),
      },
    ];
  });
  return document('zones', 'Places where readings tell one story', [
    ...rules,
    { name: 'other', title: 'other', filter: null, symbolizer: filled(ramp.stroke.light.not_graded) },
  ]);
}
