import type { FontSaid } from './font-dict.ts'

/** Bits of Flags, FontDescriptor (ISO 32000-2, table 121). */
const fixedPitch = 1
const serif = 1 << 1
const italic = 1 << 6
const forceBold = 1 << 18

/**
 * The one of the fourteen fonts that every reader has (ISO 32000-2, 9.6.2.2) which is nearest to one that is missing, by
 * its name and by what its flags say.
 */
export function standIn({ name, flags }: Pick<FontSaid, 'name' | 'flags'>): string {
  if (/dingbat/i.test(name)) return 'ZapfDingbats'
  if (/^symbol/i.test(name)) return 'Symbol'
  const bold = /bold|black|heavy|demi/i.test(name) || (flags & forceBold) !== 0
  const slanted = /italic|oblique|slanted/i.test(name) || (flags & italic) !== 0
  if (/courier|mono|typewriter/i.test(name) || (flags & fixedPitch) !== 0)
    return styled('Courier', bold, slanted, 'Oblique')
  const upright = /helvetica|arial|sans/i.test(name)
  if (!upright && (/times|serif|roman|garamond|georgia/i.test(name) || (flags & serif) !== 0))
    return bold || slanted ? styled('Times', bold, slanted, 'Italic') : 'Times-Roman'
  return styled('Helvetica', bold, slanted, 'Oblique')
}

function styled(family: string, bold: boolean, slanted: boolean, slant: string): string {
  const style = `${bold ? 'Bold' : ''}${slanted ? slant : ''}`
  return style === '' ? family : `${family}-${style}`
}
