import { BadInput } from '../base/finding.ts'

/** What the first bytes of an ICC profile say. */
export interface ProfileHeader {
  readonly version: number
  /** Four letters: `prtr` printing, `mntr` screen, `scnr` scanner, `nmcl` named colours, `link`, `spac`, `abst`. */
  readonly deviceClass: string
  /** Four letters, blank at the end: `CMYK`, `RGB `, `GRAY`, `Lab `. */
  readonly space: string
  readonly connection: string
  readonly tags: ReadonlySet<string>
}

const headerSize = 128
const newest = 4

/**
 * Reads the head and the tag table and holds them against the bytes that are there, so that the engine is never asked
 * to follow an offset into nothing. Bytes after the stated end are allowed. Throws BadInput.
 * Source: ICC.1:2022, sections 7.2 and 7.3.
 * @param fix what to do about a profile that cannot be used
 */
export function readProfileHeader(icc: Uint8Array, subject: string, fix: string): ProfileHeader {
  const view = new DataView(icc.buffer, icc.byteOffset, icc.byteLength)
  const letters = (at: number) => String.fromCharCode(...icc.subarray(at, at + 4))
  const refuse = (code: string, problem: string) =>
    new BadInput(code, subject, 'colour profile', problem, fix)
  if (icc.length < headerSize + 4 || letters(36) !== 'acsp')
    throw refuse('profile-unreadable', `${icc.length} bytes that are no ICC profile`)
  const size = view.getUint32(0)
  if (size > icc.length)
    throw refuse('profile-truncated', `says it has ${size} bytes, but only ${icc.length} are there`)
  const version = icc[8]!
  if (version > newest)
    throw refuse(
      'profile-version',
      `is of ICC version ${version}; versions 2 and 4 can be read, iccMAX cannot`,
    )
  const count = view.getUint32(headerSize)
  const tableEnd = headerSize + 4 + 12 * count
  if (tableEnd > size)
    throw refuse('profile-size', `lists ${count} tags, more than its ${size} bytes can hold`)
  const tags = new Set<string>()
  for (let at = headerSize + 4; at < tableEnd; at += 12) {
    const tag = letters(at)
    const start = view.getUint32(at + 4)
    const length = view.getUint32(at + 8)
    if (start < tableEnd || start + length > size)
      throw refuse('profile-size', `its tag "${tag}" lies at bytes ${start} to ${start + length} of ${size}`)
    tags.add(tag)
  }
  return { version, deviceClass: letters(12), space: letters(16), connection: letters(20), tags }
}

const classNames: Readonly<Record<string, string>> = {
  mntr: 'a screen',
  scnr: 'a scanner or camera',
  nmcl: 'named colours',
  link: 'a link between two devices',
  spac: 'a colour space',
  abst: 'an abstract colour change',
}

/**
 * Holds a profile to what a print condition must be: a printing profile for CMYK that turns ink into colour.
 * Throws BadInput that says which of these it is not.
 */
export function requirePrinting(icc: Uint8Array, subject: string): ProfileHeader {
  const fix = 'Choose the ICC profile of the printing, as the printer gives it out'
  const header = readProfileHeader(icc, subject, fix)
  const refuse = (code: string, problem: string) =>
    new BadInput(code, subject, 'colour profile', problem, fix)
  const size = new DataView(icc.buffer, icc.byteOffset).getUint32(0)
  // A file may be filled up to the next four bytes, no further.
  if (icc.length - size > 3)
    throw refuse('profile-size', `says it has ${size} bytes, but ${icc.length} are there`)
  if (header.deviceClass !== 'prtr')
    throw refuse(
      'profile-class',
      `describes ${classNames[header.deviceClass] ?? `"${header.deviceClass}"`}, not printing`,
    )
  if (header.space !== 'CMYK')
    throw refuse('profile-space', `stands for ${header.space.trim() || 'no space'}, not for CMYK`)
  if (header.connection !== 'Lab ' && header.connection !== 'XYZ ')
    throw refuse('profile-connection', `leads to "${header.connection.trim()}" instead of Lab or XYZ`)
  if (!['A2B0', 'A2B1', 'D2B0', 'D2B1'].some(tag => header.tags.has(tag)))
    throw refuse('profile-one-way', 'has no table from ink to colour')
  return header
}
