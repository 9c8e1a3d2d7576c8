import type { Finding } from '../../base/finding.ts'
import { saveAgain } from '../place.ts'
import { Cursor } from './cursor.ts'
import { localText, pascalBytes } from './strings.ts'

export interface Resource {
  readonly id: number
  readonly name: string
  readonly cursor: () => Cursor
}

const signatures = new Set(['8BIM', 'MeSa', 'AgHg', 'PHUT', 'DCSR'])

/**
 * The image resources by id, the first where an id comes twice. A damaged one ends the list with a finding:
 * pixels do not depend on them.
 */
export function readResources(section: Cursor, findings: Finding[]): ReadonlyMap<number, Resource> {
  const found = new Map<number, Resource>()
  while (section.left >= 12) {
    const at = section.at
    const stop = (message: string) =>
      findings.push({
        severity: 'warning',
        code: 'resources-damaged',
        where: `byte ${at}`,
        message: `${message}; resolution, profile, channel names or paths behind it are not read`,
        fix: saveAgain,
      })
    if (!signatures.has(section.peekTag())) {
      stop('an image resource does not begin with its signature')
      break
    }
    section.skip(4)
    const id = section.u16()
    if (section.left < 1 || section.left < (section.peekByte() | 1) + 1 + 4) {
      stop('an image resource is longer than its section')
      break
    }
    const name = localText(pascalBytes(section, 2)).text
    const length = section.u32()
    if (length > section.left) {
      stop('an image resource is longer than its section')
      break
    }
    const start = section.at
    const bytes = section.take(length)
    if (length % 2 === 1 && section.left > 0) section.skip(1)
    if (!found.has(id)) found.set(id, { id, name, cursor: () => new Cursor(bytes, start, section.place) })
  }
  return found
}
