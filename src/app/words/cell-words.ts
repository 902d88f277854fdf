import { DOUBT_WORDS } from '../../survey/doubt-words';
import { HOOKUP_LABEL } from '../../survey/hookup';
import { UNIT_LABEL } from '../../survey/units';
import { ratioText } from '../../survey/wording';
import type { RecordColumn, RecordRow } from '../state/record-rows';
import { figureWords } from './figure-words';
import { gradeWords } from './grade-words';
import { shownValueWords, statusWords, WETTING_WORDS } from './record-words';

export const COLUMN_WORDS: Record<RecordColumn, string> = {
  line: 'line',
  chainage: 'at, m',
  spacing: 'spacing, m',
  value: 'showed',
  unit: 'unit',
  figure: 'figure',
  ratio: 'ratio',
  grade: 'grade',
  doubts: 'doubts',
  status: 'status',
  hookup: 'hookup',
  wetting: 'wetting',
  time: 'time',
};

/** Where a small screen has no room for the whole. */
export const NARROW_WORDS: Partial<Record<RecordColumn, string>> = {
  chainage: 'at',
  spacing: 'spacing',
  doubts: 'doubt',
};

/** A cell of the table in words; the grade's is for those who do not see its swatch. */
export function cellWords(row: RecordRow, column: RecordColumn): string {
  const { reading, figure } = row;
  switch (column) {
    case 'line':
      return row.line.name;
    case 'chainage':
      return row.chainageM === null ? '–' : String(Number(row.chainageM.toFixed(2)));
    case 'spacing':
      return row.spacingM === null ? '–' : String(Number(row.spacingM.toFixed(2)));
    case 'value':
      return shownValueWords(reading);
    case 'unit':
      return UNIT_LABEL[reading.unit];
    case 'figure':
      return figure ? figureWords(figure) : '–';
    case 'ratio':
      return figure && figure.ratio !== null ? ratioText(figure.ratio) : '–';
    case 'grade':
      return figure ? gradeWords(figure) : 'No figure';
    case 'doubts':
      if (row.doubts.length > 0) return row.doubts.map(({ code }) => DOUBT_WORDS[code].toLowerCase()).join(', ');
      return row.settled > 0 ? 'settled' : '';
    case 'status':
      return statusWords(reading.status);
    case 'hookup':
      return HOOKUP_LABEL[row.hookup];
    case 'wetting':
      return WETTING_WORDS[row.wetting];
    case 'time':
      return reading.time?.replace('T', ' ').slice(0, 16) ?? '–';
  }
}
