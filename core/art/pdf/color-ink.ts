import { PDFArray, type PDFDict, type PDFObject } from '../../base/pdf.ts'
import type { InkColor } from '../layer.ts'
import { badSpace, clip01, makeSpace, tellOnce } from './color-kit.ts'
import { openFunction, type PdfFunction } from './function.ts'
import { mostInks } from './ink-set.ts'
import { arrayOf, asDict, asName, dictOf, items, look } from './objects.ts'
import type { ColorSpace, Reading } from './reading.ts'

// Colour spaces that name inks. Source: ISO 32000-2, 8.6.6.4 and 8.6.6.5.

type Open = (space: PDFObject) => ColorSpace

/**
 * Separation: one ink. `None` paints nothing; `All` paints every ink that the page is known to have when the space is
 * opened.
 */
export function openSeparation(reading: Reading, space: PDFArray, open: Open): ColorSpace {
  const name = asName(space.lookup(1))
  if (name === undefined) throw badSpace(reading, 'colour space Separation', 'it names no ink')
  const where = `ink "${name}"`
  if (reading.aim === 'luminosity' || (reading.light !== null && isProcess(name)))
    return throughAlternate(reading, space, 1, where, open)
  const { inks } = reading
  const painted =
    name === 'None'
      ? []
      : name === 'All'
        ? inks.list.map((_, number) => number)
        : [inks.numberOf(name, () => alternateOf(reading, space, 1, 0, where, open))]
  return makeSpace({
    components: 1,
    initial: [1],
    inks: painted,
    manyTints: values => {
      if (painted.length === 1) return values.map(clip01)
      const out = new Float32Array(values.length * painted.length)
      for (let i = 0; i < values.length; i++)
        out.fill(clip01(values[i]!), i * painted.length, (i + 1) * painted.length)
      return out
    },
    inkColor: () => ({ space: 'other', values: [] }),
  })
}

/** DeviceN: several inks; those named None paint nothing. */
export function openDeviceN(reading: Reading, space: PDFArray, open: Open): ColorSpace {
  const list = space.lookup(1)
  const names = list instanceof PDFArray ? items(list).map(asName) : []
  const where = `inks ${names.map(name => `"${name ?? '?'}"`).join(', ')}`
  if (names.length === 0 || names.length > mostInks || names.some(name => name === undefined))
    throw badSpace(reading, `colour space DeviceN`, `it names ${names.length} inks, not 1 to ${mostInks}`)
  const attributes = asDict(space.lookup(4))
  const process = processNames(attributes)
  const lit = reading.light !== null && names.some(name => isProcess(process.get(name ?? '') ?? name))
  if (reading.aim === 'luminosity' || lit) return throughAlternate(reading, space, names.length, where, open)
  const lights = lightNames(attributes)
  if (names.some(name => lights.has(name ?? '')))
    return openWithLight(reading, space, names, lights, where, open)
  const numbers = names.map((name, at) => {
    if (name === undefined || name === 'None') return null
    if (name === 'All') {
      tellOnce(
        reading,
        {
          severity: 'warning',
          code: 'pdf-ink-all',
          where,
          message: 'An ink of several is named All, which only an ink alone can be; it is left out.',
          fix: 'Name the inks that are meant',
        },
        reading.inexact,
      )
      return null
    }
    const known = process.get(name) ?? name
    return reading.inks.numberOf(
      known,
      () =>
        colorantOf(attributes, name, open, reading) ??
        alternateOf(reading, space, names.length, at, `ink "${name}"`, open),
    )
  })
  const painted = [...new Set(numbers.filter(number => number !== null))]
  const once = numbers.filter(number => number !== null).length === painted.length
  const places = numbers.map(number => (number === null ? -1 : painted.indexOf(number)))
  return makeSpace({
    components: names.length,
    initial: names.map(() => 1),
    inks: painted,
    manyTints: values => {
      const count = values.length / names.length
      const out = new Float32Array(count * painted.length)
      for (let i = 0; i < count; i++)
        for (let c = 0; c < places.length; c++) {
          const to = i * painted.length + places[c]!
          // A name that stands twice, which no file should have, paints the more of the two.
          if (places[c]! >= 0) out[to] = Math.max(out[to]!, clip01(values[i * names.length + c]!))
        }
      return out
    },
    direct: once ? painted.map(number => numbers.indexOf(number)) : null,
    inkColor: () => ({ space: 'other', values: [] }),
  })
}

/** Names of components of a process space that is none of inks, such as RGB (Process of NChannel). */
function lightNames(attributes: PDFDict | undefined): ReadonlySet<string> {
  const components = items(arrayOf(dictOf(attributes, 'Process'), 'Components')).map(asName)
  const isLight = processNames(attributes).size === 0
  return new Set(isLight ? components.filter(name => name !== undefined) : [])
}

/**
 * Spot inks beside a process colour that names no inks: what that looks like is what the tint transform makes of it
 * without the spot inks; those are planes of their own.
 */
function openWithLight(
  reading: Reading,
  space: PDFArray,
  names: readonly (string | undefined)[],
  lights: ReadonlySet<string>,
  where: string,
  open: Open,
): ColorSpace {
  const { tint, alternate } = transformOf(reading, space, names.length, where, open)
  const attributes = asDict(space.lookup(4))
  const spots = names.flatMap((name, at) => {
    if (name === undefined || name === 'None' || name === 'All' || lights.has(name)) return []
    const look = () =>
      colorantOf(attributes, name, open, reading) ??
      alternateOf(reading, space, names.length, at, `ink "${name}"`, open)
    return [{ at, ink: reading.inks.numberOf(name, look) }]
  })
  const isSpot = names.map(name => !lights.has(name ?? ''))
  const n = alternate.components
  const own = alternate.inks.length
  const inks = [...alternate.inks, ...spots.map(({ ink }) => ink)]
  const made = new Float64Array(tint.outputs)
  return makeSpace({
    components: names.length,
    initial: names.map(() => 1),
    inks,
    manyTints: values => {
      const count = values.length / names.length
      const colors = new Float32Array(count * n)
      for (let i = 0; i < count; i++) {
        const one = values.subarray(i * names.length, (i + 1) * names.length)
        tint.run(
          one.map((value, at) => (isSpot[at] ? 0 : value)),
          made,
        )
        for (let k = 0; k < n; k++) colors[i * n + k] = made[k]!
      }
      const process = alternate.manyTints(colors)
      const out = new Float32Array(count * inks.length)
      for (let i = 0; i < count; i++) {
        out.set(process.subarray(i * own, (i + 1) * own), i * inks.length)
        for (const [k, { at }] of spots.entries())
          out[i * inks.length + own + k] = clip01(values[i * names.length + at]!)
      }
      return out
    },
    inkColor: () => ({ space: 'other', values: [] }),
  })
}

const inksOfProcess = ['Cyan', 'Magenta', 'Yellow', 'Black']
const isProcess = (name: string | undefined): boolean => inksOfProcess.includes(name ?? '')

/** Own names of a file for cyan, magenta, yellow and black (Process of NChannel), by those names. */
function processNames(attributes: PDFDict | undefined): ReadonlyMap<string, string> {
  const process = dictOf(attributes, 'Process')
  const components = items(arrayOf(process, 'Components')).map(asName)
  const space = look(process, 'ColorSpace')
  const isCmyk =
    asName(space) === 'DeviceCMYK' ||
    (space instanceof PDFArray && asName(space.lookup(0)) === 'ICCBased' && components.length === 4)
  return new Map(
    isCmyk
      ? components.flatMap((name, i) =>
          name === undefined || inksOfProcess[i] === undefined ? [] : [[name, inksOfProcess[i]]],
        )
      : [],
  )
}

/** What an ink of several looks like alone, where the file has it as a space of its own. */
function colorantOf(
  attributes: PDFDict | undefined,
  name: string,
  open: Open,
  reading: Reading,
): InkColor | null {
  const colorants = dictOf(attributes, 'Colorants')
  const own = colorants?.entries().find(([key]) => asName(key) === name)
  const space = own === undefined ? undefined : reading.context.lookup(own[1])
  if (!(space instanceof PDFArray) || asName(space.lookup(0)) !== 'Separation') return null
  return alternateOf(reading, space, 1, 0, `ink "${name}"`, open)
}

/** What stands for the solid of one of a space's inks; null, and told, where that cannot be read. */
function alternateOf(
  reading: Reading,
  space: PDFArray,
  count: number,
  which: number,
  where: string,
  open: Open,
): InkColor | null {
  try {
    const { tint, alternate } = transformOf(reading, space, count, where, open)
    const solid = Array.from({ length: count }, (_, i) => (i === which ? 1 : 0))
    const values = tint.run(solid, new Float64Array(tint.outputs))
    const color = alternate.inkColor(Array.from(values.subarray(0, alternate.components)))
    return color.space === 'other' ? null : color
  } catch (error) {
    tellOnce(reading, {
      severity: 'warning',
      code: 'pdf-ink-alternate',
      where,
      message: `What stands for it on a screen cannot be read (${error instanceof Error ? error.message : 'damaged'}).`,
      fix: 'Choose its colour by hand, or save the file again',
    })
    return null
  }
}

/** Tint transform and alternate space. Throws BadInput. */
function transformOf(reading: Reading, space: PDFArray, count: number, where: string, open: Open) {
  const given = space.lookup(2)
  if (given === undefined) throw badSpace(reading, where, 'it has no alternate colour space')
  const alternate = open(given)
  const tint: PdfFunction = openFunction(space.lookup(3), reading.file, where)
  if (tint.inputs !== count || tint.outputs < alternate.components)
    throw badSpace(
      reading,
      where,
      `its tint transform makes ${tint.outputs} numbers of ${tint.inputs}, not ${alternate.components} of ${count}`,
    )
  return { tint, alternate }
}

/** A mask's lightness is that of the alternate colour. */
function throughAlternate(
  reading: Reading,
  space: PDFArray,
  count: number,
  where: string,
  open: Open,
): ColorSpace {
  const { tint, alternate } = transformOf(reading, space, count, where, open)
  const n = alternate.components
  const made = new Float64Array(tint.outputs)
  return makeSpace({
    components: count,
    initial: Array.from({ length: count }, () => 1),
    inks: alternate.inks,
    manyTints: values => {
      const colors = new Float32Array((values.length / count) * n)
      for (let i = 0; i < values.length / count; i++) {
        tint.run(values.subarray(i * count, (i + 1) * count), made)
        for (let k = 0; k < n; k++) colors[i * n + k] = made[k]!
      }
      return alternate.manyTints(colors)
    },
    inkColor: () => ({ space: 'other', values: [] }),
  })
}
