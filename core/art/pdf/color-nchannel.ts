import { PDFArray, type PDFDict } from '../../base/pdf.ts'
import { clip01, makeSpace } from './color-kit.ts'
import { arrayOf, asDict, asName, dictOf, items, look } from './objects.ts'
import type { ColorSpace, Reading } from './reading.ts'
import { alternateOf, colorantOf, type Open, transformOf } from './tint-transform.ts'

// Process colours inside a space of several inks (NChannel). Source: ISO 32000-2, 8.6.6.5.

const inksOfProcess = ['Cyan', 'Magenta', 'Yellow', 'Black']
export const isProcess = (name: string | undefined): boolean => inksOfProcess.includes(name ?? '')

/** Own names of a file for cyan, magenta, yellow and black (Process of NChannel), by those names. */
export function processNames(attributes: PDFDict | undefined): ReadonlyMap<string, string> {
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

/** Names of components of a process space that is none of inks, such as RGB (Process of NChannel). */
export function lightNames(attributes: PDFDict | undefined): ReadonlySet<string> {
  const components = items(arrayOf(dictOf(attributes, 'Process'), 'Components')).map(asName)
  const isLight = processNames(attributes).size === 0
  return new Set(isLight ? components.filter(name => name !== undefined) : [])
}

/**
 * Spot inks beside a process colour that names no inks: what that looks like is what the tint transform makes of it
 * without the spot inks; those are planes of their own.
 */
export function openWithLight(
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
