import type { Art } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import type { Plate, WhitePlate } from './plates.ts'
import { statedOpacity, statedOrder, usualOpacity } from './stated.ts'

/** What is to be said of what the file states, where the picture takes it or cannot show it. */
export function statedFindings(art: Art, whites: readonly WhitePlate[], spots: readonly Plate[]): Finding[] {
  return [
    ...whites.flatMap(white => whiteOpacity(art, white)),
    ...spots.flatMap(spot => opaqueInk(art, spot)),
    ...whites.flatMap(white => whiteOverInk(art, white, spots)),
  ]
}

const percent = (part: number): string => `${Math.round(100 * part)} %`

/** Of a white that nobody described. */
function whiteOpacity(art: Art, { name, opacity, target, assumed }: WhitePlate): Finding[] {
  const stated = assumed ? statedOpacity(art, target) : null
  if (stated === null) return []
  const [least, most] = usualOpacity
  const isUsual = stated >= least && stated <= most
  const usual = `one hit of white usually has ${percent(least)} to ${percent(most)}`
  const taken = `its opacity of ${percent(opacity)} is the solidity that the file states, an estimate: files do not say how solidity is measured`
  const refused = `the file states a solidity of ${percent(stated)}, and ${usual}; shown with ${percent(opacity)}`
  return [
    {
      severity: isUsual ? 'note' : 'warning',
      code: 'white-opacity-stated',
      where: `white "${name}"`,
      message: stated > most ? refused : isUsual ? taken : `${taken}; ${usual}`,
      fix: 'Enter what was measured, or what the printer says of this white.',
    },
  ]
}

/** Pictures know inks as filters, and white alone as a film that hides. */
function opaqueInk(art: Art, { name, target }: Plate): Finding[] {
  const opacity = statedOpacity(art, target)
  if (opacity === null) return []
  return [
    {
      severity: 'note',
      code: 'ink-opacity-not-shown',
      where: `spot ink "${name}"`,
      message: `the file states it to be ${percent(opacity)} solid; the picture shows it as a filter, through which metal and holography shine`,
      fix: 'Where it has to hide the metal, lay white beneath it, or give it the part of a white.',
    },
  ]
}

/** Inks are filters, so their order among themselves changes nothing; beneath a white they are hidden. */
function whiteOverInk(art: Art, white: WhitePlate, spots: readonly Plate[]): Finding[] {
  const own = statedOrder(art, white.target)
  if (own === null) return []
  const under = spots.filter(spot => (statedOrder(art, spot.target)?.order ?? own.order!) < own.order!)
  const names = [...(own.process === 'over' ? ['process inks'] : []), ...under.map(({ name }) => `"${name}"`)]
  if (names.length === 0) return []
  return [
    {
      severity: 'warning',
      code: 'order-not-shown',
      where: `white "${white.name}"`,
      message: `the file prints it over ${names.join(', ')}; the picture shows every ink over the white`,
      fix: 'Nothing, if it is printed on the back of a film that is looked through; else correct the printing order in the file.',
    },
  ]
}
