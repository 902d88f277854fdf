import initSqlJs from 'sql.js';
import { appraise } from '../../src/appraise';
import { giveBack } from '../../src/cli/give-back';
import { disclose } from '../../src/discretion/disclose';
import { packed } from '../../src/handover/pack';
import { bigSurvey } from './appraise.bench';

/** One pack for the surveyor, which is the largest, as the command line makes it; prints what it took. */
const survey = bigSurvey(Number(process.argv[2] ?? 1000));
const disclosed = disclose(survey, appraise(survey), 'surveyor');
const sql = await initSqlJs();
const start = process.cpuUsage();
const pack = await packed(
  disclosed,
  { madeAt: '2026-11-25', contact: null, licence: null, title: null },
  { sql, giveBack },
);
if (!pack.ok) throw new Error(pack.sentence);
const used = process.cpuUsage(start);
process.stdout.write(
  JSON.stringify({
    segments: survey.readings.length,
    seconds: (used.user + used.system) / 1e6,
    megabytes: process.resourceUsage().maxRSS / 1024,
    zipMegabytes: pack.value.zip.length / 1e6,
  }),
);
