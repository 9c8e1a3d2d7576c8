import type { Amount, RoleName } from '../../core/roles/role.ts'

interface RoleWords {
  readonly title: string
  /** What it is on the carton, one sentence. */
  readonly says: string
}

export const roleWords: Readonly<Record<RoleName, RoleWords>> = {
  substrate: {
    title: 'Metal',
    says: 'Where the board carries metal. Without such a layer the whole panel does.',
  },
  holography: {
    title: 'Holography',
    says: 'Micro-embossed grooves in the lacquer over the metal. They split the light into colours.',
  },
  emboss: { title: 'Emboss', says: 'A raised or sunken shape pressed into the finished board.' },
  primer: { title: 'Primer', says: 'A clear coat that helps the inks hold on the metal.' },
  white: {
    title: 'White',
    says: 'Opaque white under the inks. Where it lies, the metal and its holography are hidden.',
  },
  overprint: {
    title: 'Overprint',
    says: 'Cyan, magenta, yellow and black. Transparent: over bare metal the metal shines through them.',
  },
  spotInk: { title: 'Spot ink', says: 'An ink of its own colour beside the process inks.' },
  varnish: {
    title: 'Varnish',
    says: 'A clear coat on top. It changes the gloss and leaves the colours alone.',
  },
  foilStamp: { title: 'Foil stamp', says: 'Metal foil stamped onto the finished print.' },
  dieline: { title: 'Dieline', says: 'Where the board is cut and creased.' },
  glueZone: { title: 'Glue zone', says: 'Where the carton is glued. Nothing should be printed there.' },
  codingArea: { title: 'Coding area', says: 'Kept free for the date and lot code.' },
  legend: { title: 'Legend', says: 'Notes for people: colour names, dates, dimensions.' },
  ignore: { title: 'Left out', says: 'Has no part in the carton.' },
}

const inkNames = { C: 'cyan', M: 'magenta', Y: 'yellow', K: 'black' } as const

/** How an amount is read, as the end of “the amount is …”. */
export function amountWords(amount: Amount): string {
  switch (amount.from) {
    case 'alpha':
      return 'where the layer has pixels'
    case 'darkness':
      return 'how dark it is'
    case 'lightness':
      return 'how light it is'
    case 'ink':
      return `its ${inkNames[amount.ink]}`
    case 'plane':
      return 'the channel’s own samples'
  }
}

export const sameAmount = (a: Amount, b: Amount): boolean =>
  a.from === b.from && (a.from !== 'ink' || b.from !== 'ink' || a.ink === b.ink)

/** Every way a layer's amount can be read. */
export const layerAmounts: readonly Amount[] = [
  { from: 'alpha' },
  { from: 'darkness' },
  { from: 'lightness' },
  { from: 'ink', ink: 'C' },
  { from: 'ink', ink: 'M' },
  { from: 'ink', ink: 'Y' },
  { from: 'ink', ink: 'K' },
]
