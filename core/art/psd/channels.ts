import type { Finding } from '../../base/finding.ts'
import { type Channel, type InkColor, processCount } from '../layer.ts'
import type { Cursor } from './cursor.ts'
import type { Header } from './header.ts'
import { colorNumbers } from './ink.ts'
import type { Resource } from './resources.ts'
import { localText, pascalBytes, unicodeString } from './strings.ts'

const localNames = 1006
const unicodeNames = 1045
const oldDisplay = 1007
const display = 1077
const identifiers = 1053

interface Display {
  readonly ink: InkColor | null
  readonly solidity: number
  readonly spot: boolean
}

/**
 * Planes of the document beyond the process colours. Plane, name and display record go one to one, in file order;
 * with `transparency` the first of them is the picture's alpha, whatever its (translated) name says.
 */
export function readChannels(
  header: Pick<Header, 'mode' | 'planes'>,
  resources: ReadonlyMap<number, Resource>,
  transparency: boolean,
  findings: Finding[],
): Channel[] {
  const first = processCount(header.mode)
  const count = header.planes - first
  if (count <= 0) return []
  const names = readNames(resources, findings)
  const displays = readDisplays(resources)
  const ids = readIds(resources, count)
  return Array.from({ length: count }, (_, i) => {
    const shown = displays[i]
    const kind =
      i === 0 && transparency
        ? 'transparency'
        : (shown?.spot ?? header.mode === 'Multichannel')
          ? 'spot'
          : 'alpha'
    return {
      id: ids?.[i] ?? `p${first + i}`,
      name: names[i] || (kind === 'transparency' ? 'Transparency' : `Channel ${first + i + 1}`),
      kind,
      ink: kind === 'spot' ? (shown?.ink ?? null) : null,
      opacity: kind === 'spot' && shown ? shown.solidity : null,
      plane: first + i,
    }
  })
}

function readNames(resources: ReadonlyMap<number, Resource>, findings: Finding[]): string[] {
  const names: string[] = []
  const unicode = resources.get(unicodeNames)?.cursor()
  if (unicode) {
    while (unicode.left >= 4 && unicode.peekU32() * 2 <= unicode.left - 4) names.push(unicodeString(unicode))
    return names
  }
  const local = resources.get(localNames)?.cursor()
  if (!local) return names
  let guessed = false
  while (local.left >= 1 && local.peekByte() < local.left) {
    const text = localText(pascalBytes(local, 1))
    guessed ||= text.guessed
    names.push(text.text)
  }
  if (guessed)
    findings.push({
      severity: 'note',
      code: 'name-encoding-guessed',
      where: 'channels',
      message: 'channel names have no Unicode form; their characters are a guess',
      fix: 'Rename a channel if its name looks wrong.',
    })
  return names
}

/** 13 bytes each behind a version; in old files 14 bytes each. */
function readDisplays(resources: ReadonlyMap<number, Resource>): Display[] {
  const current = resources.get(display)?.cursor()
  if (current && current.left >= 4) {
    current.skip(4)
    return records(current, 13)
  }
  const old = resources.get(oldDisplay)?.cursor()
  return old ? records(old, 14) : []
}

function records(section: Cursor, size: number): Display[] {
  const found: Display[] = []
  while (section.left >= 13) {
    const record = section.section(Math.min(size, section.left))
    const space = record.u16()
    const numbers = [record.u16(), record.u16(), record.u16(), record.u16()] as const
    const solidity = Math.min(1, record.u16() / 100)
    found.push({ ink: colorNumbers(space, numbers), solidity, spot: record.u8() === 2 })
  }
  return found
}

/** The file's own lasting ids, when there is one for each channel. */
function readIds(resources: ReadonlyMap<number, Resource>, count: number): string[] | null {
  const cursor = resources.get(identifiers)?.cursor()
  if (!cursor || cursor.left !== count * 4) return null
  const ids = Array.from({ length: count }, () => `c${cursor.u32()}`)
  return new Set(ids).size === count ? ids : null
}
