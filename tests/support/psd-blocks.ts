import type { DocumentPath, InkColor, OutlinePath } from '../../core/art/layer.ts'
import { Bytes } from './psd-bytes.ts'

/** A named block as the file holds it: an image resource by number, a layer block by four letters. */
export interface Block {
  readonly key: string
  readonly data: Uint8Array
}

export interface ExtraChannel {
  readonly name: string
  readonly kind: 'spot' | 'alpha'
  readonly ink?: InkColor
  /** 0..1 */
  readonly solidity?: number
}

/** One image resource: id, empty name, data padded to even length. */
export function resource(id: number, data: Uint8Array): Uint8Array {
  return new Bytes().ascii('8BIM').u16(id).u16(0).u32(data.length).raw(data).pad(2).join()
}

/** Resource 1005: horizontal and vertical pixels per inch as 16.16, shown in inches. */
export function resolutionData(ppi: number): Uint8Array {
  const fixed = Math.round(ppi * 65536)
  return new Bytes().u32(fixed).u16(1).u16(1).u32(fixed).u16(1).u16(1).join()
}

/** Resource 1077: colour space, four 16-bit numbers, solidity and kind of each extra channel. */
export function displayInfoData(channels: readonly ExtraChannel[]): Uint8Array {
  const out = new Bytes().u32(1)
  for (const channel of channels) {
    displayColor(out, channel.ink ?? { space: 'RGB', values: [1, 0, 0] })
    out.u16(Math.round((channel.solidity ?? 1) * 100)).u8(channel.kind === 'spot' ? 2 : 0)
  }
  return out.join()
}

function displayColor(out: Bytes, ink: InkColor): void {
  const [a = 0, b = 0, c = 0, d = 0] = ink.values
  const full = (v: number) => Math.round(v * 65535)
  switch (ink.space) {
    case 'RGB':
      out.u16(0).u16(full(a)).u16(full(b)).u16(full(c)).u16(0)
      return
    case 'HSB':
      out.u16(1).u16(full(a)).u16(full(b)).u16(full(c)).u16(0)
      return
    case 'CMYK':
      out
        .u16(2)
        .u16(full(1 - a))
        .u16(full(1 - b))
        .u16(full(1 - c))
        .u16(full(1 - d))
      return
    case 'Lab':
      out
        .u16(7)
        .u16(Math.round(a * 100))
        .u16(Math.round(b * 100))
        .u16(Math.round(c * 100))
        .u16(0)
      return
    case 'Gray':
      out
        .u16(8)
        .u16(Math.round(a * 10000))
        .zeros(6)
      return
    case 'other':
      throw new RangeError('displayColor: expected a colour space the resource can hold, got other')
  }
}

/** Resources 1045 and 1006: names of the extra channels, UTF-16 with terminator and 8-bit. */
export function channelNamesData(names: readonly string[]): { unicode: Uint8Array; ascii: Uint8Array } {
  const unicode = new Bytes()
  const ascii = new Bytes()
  for (const name of names) {
    unicode.unicode(`${name}\0`)
    ascii.pascal(name, 1)
  }
  return { unicode: unicode.join(), ascii: ascii.join() }
}

export interface PageSize {
  readonly width: number
  readonly height: number
  readonly ppi: number
}

const combineCodes = { exclude: 0, unite: 1, subtract: 2, intersect: 3 } as const

/** Path records, 26 bytes each; knots as 8.24 parts of the page, y first and down. */
export function pathRecords(paths: readonly OutlinePath[], page: PageSize, startsFull: boolean): Uint8Array {
  const out = new Bytes()
    .u16(6)
    .zeros(24)
    .u16(8)
    .u16(startsFull ? 1 : 0)
    .zeros(22)
  const part = (value: number) => Math.round(value * 2 ** 24)
  const point = ([x, y]: readonly [number, number]) =>
    out.i32(part(1 - ((y / 25.4) * page.ppi) / page.height)).i32(part(((x / 25.4) * page.ppi) / page.width))
  for (const path of paths) {
    out
      .u16(path.closed ? 0 : 3)
      .u16(path.knots.length)
      .u16(combineCodes[path.combine])
      .u16(1)
      .zeros(18)
    for (const knot of path.knots) {
      out.u16(path.closed ? 2 : 5)
      point(knot.in)
      point(knot.at)
      point(knot.out)
    }
  }
  return out.join()
}

/** Resources 2000… and 2999: the document's saved paths and the name of its clipping path. */
export function documentPathResources(paths: readonly DocumentPath[], page: PageSize): Uint8Array[] {
  const out = paths.map((path, i) =>
    new Bytes()
      .ascii('8BIM')
      .u16(2000 + i)
      .pascal(path.name, 2)
      .raw(sized(pathRecords(path.paths, page, false)))
      .join(),
  )
  const clipping = paths.find(path => path.clipping)
  if (clipping) out.push(resource(2999, new Bytes().pascal(clipping.name, 2).u32(0).u16(0).join()))
  return out
}

function sized(data: Uint8Array): Uint8Array {
  return new Bytes().u32(data.length).raw(data).pad(2).join()
}

/** Block SoCo: a solid fill in its own ink numbers (0..1 in, the file's ranges out). */
export function solidFillBlock(ink: InkColor): Block {
  const number = (key: string, value: number) => new Bytes().u32(0).ascii(key).ascii('doub').f64(value).join()
  const at = (i: number) => ink.values[i] ?? 0
  const spaces: Readonly<Record<string, readonly [string, ...Uint8Array[]]>> = {
    CMYK: [
      'CMYC',
      number('Cyn ', at(0) * 100),
      number('Mgnt', at(1) * 100),
      number('Ylw ', at(2) * 100),
      number('Blck', at(3) * 100),
    ],
    RGB: ['RGBC', number('Rd  ', at(0) * 255), number('Grn ', at(1) * 255), number('Bl  ', at(2) * 255)],
    Gray: ['Grsc', number('Gry ', (1 - at(0)) * 100)],
    Lab: ['LbCl', number('Lmnc', at(0)), number('A   ', at(1)), number('B   ', at(2))],
  }
  const space = spaces[ink.space]
  if (!space) throw new RangeError(`solidFillBlock: expected CMYK, RGB, Gray or Lab, got ${ink.space}`)
  const [id, ...items] = space
  const data = new Bytes().u32(16)
  data.unicode('\0').u32(0).ascii('null').u32(1)
  data.u32(0).ascii('Clr ').ascii('Objc').unicode('\0').u32(0).ascii(id).u32(items.length).all(items)
  return { key: 'SoCo', data: data.pad(4).join() }
}

/** Layer block vmsk: a vector mask. */
export function vectorMaskBlock(
  mask: {
    readonly paths: readonly OutlinePath[]
    readonly inverted?: boolean
    readonly disabled?: boolean
    readonly startsFull?: boolean
  },
  page: PageSize,
): Block {
  const flags = (mask.inverted ? 1 : 0) | (mask.disabled ? 4 : 0)
  const records = pathRecords(mask.paths, page, mask.startsFull ?? false)
  return { key: 'vmsk', data: new Bytes().u32(3).u32(flags).raw(records).pad(4).join() }
}
