import { done, type Outcome, refuse } from '../../survey/outcome';

const HTTPS = 'https:';

/**
 * An address of online tiles with `{z}`, `{x}` and `{y}` where zoom, column and row go.
 * Refusals: `no_address`, `not_https`, `no_placeholders`, `other_placeholders`.
 */
export function readTileAddress(text: string): Outcome<string> {
  const typed = text.trim();
  const marks: readonly string[] = typed.match(/\{[^}]*\}/g) ?? [];
  if (!['{z}', '{x}', '{y}'].every((mark) => marks.includes(mark))) {
    return refuse('no_placeholders', 'The address has to have {z}, {x} and {y} where zoom, column and row go.');
  }
  const other = marks.find((mark) => !['{z}', '{x}', '{y}'].includes(mark));
  if (other !== undefined) {
    return refuse('other_placeholders', `${other} is not filled in here. Put what belongs there into the address.`);
  }
  const probe = typed.replace(/\{[zxy]\}/g, '0');
  if (!URL.canParse(probe)) return refuse('no_address', 'That is no address of the network.');
  const { protocol, username, password, host } = new URL(probe);
  if (protocol !== HTTPS) return refuse('not_https', 'Only addresses that begin with https:// are asked.');
  if (username || password) return refuse('no_address', 'An address with a name or password in it is not kept here.');
  // A mark in the name of the host would ask ever other hosts.
  if (!typed.toLowerCase().includes(`//${host.toLowerCase()}/`)) {
    return refuse('no_address', '{z}, {x} and {y} belong behind the name of the server.');
  }
  return done(typed);
}

/** The server that will see where one looks. */
export const hostOf = (address: string): string => new URL(address.replace(/\{[zxy]\}/g, '0')).host;
