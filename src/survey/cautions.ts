/** The usual cautions of this work, short and plain. Told in the README, the app, the report and `--help`. */
export const CAUTIONS: readonly string[] = [
  'Nobody touches a probe or a lead while the meter is on. Meter off and leads out before every touch. Some meters put out hundreds of volts.',
  'Alone: switch off and disconnect before you leave the meter.',
  'Thunder: stop, and wait until 30 minutes after the last. Long wires draw lightning.',
  'Before driving rods, ask the one-call or utility service and sweep for cables and pipes.',
  'Keep off rims and soft ground: soil over a hollow can fail without warning.',
  'Do not enter a found opening without training, company and someone who will call for help.',
  'Plain water first: salt water harms plants and groundwater and is barred in places.',
  'Readings neither prove nor rule out a void. Siting, design and clearance belong to licensed practice and local codes.',
  'Some cave locations are protected by law and by the word of the landowner.',
];
