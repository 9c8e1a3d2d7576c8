import type { Finding } from '../../base/finding.ts'
import { PDFArray } from '../../base/pdf.ts'
import { badSpace, clip01, makeSpace, tellOnce } from './color-kit.ts'
import { isProcess, lightNames, openWithLight, processNames } from './color-nchannel.ts'
import { mostInks } from './ink-set.ts'
import { asDict, asName, items } from './objects.ts'
import type { ColorSpace, Reading } from './reading.ts'
import { alternateOf, colorantOf, type Open, throughAlternate } from './tint-transform.ts'

// Colour spaces that name inks. Source: ISO 32000-2, 8.6.6.4 and 8.6.6.5.

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
  if (name === 'All' || name === 'None') tellOnce(reading, reserved(name, where))
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

/** Names that stand for no ink of their own (ISO 32000-2, 8.6.6.4). */
const reserved = (name: 'All' | 'None', where: string): Finding =>
  name === 'All'
    ? {
        severity: 'note',
        code: 'pdf-ink-all',
        where,
        message: 'It prints on every plate, white and holography too.',
        fix: 'Nothing, where it is a register mark; give art an ink of its own.',
      }
    : {
        severity: 'note',
        code: 'pdf-ink-none',
        where,
        message: 'It prints on no plate: what is drawn in it is left out.',
        fix: 'Nothing, where that is meant; else give it an ink with a name of its own.',
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
