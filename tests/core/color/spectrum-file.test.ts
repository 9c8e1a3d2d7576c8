import { describe, expect, test } from 'vitest'
import { illuminantSpectrum, illuminantWhite } from '../../../core/color/spectrum.ts'
import { parseSpectrum } from '../../../core/color/spectrum-file.ts'
import { illuminants } from '../../../core/data/illuminants.ts'

const every = (step: number, value: (nm: number) => number | string, from = 380, to = 780) =>
  Array.from({ length: (to - from) / step + 1 }, (_, i) => [from + i * step, value(from + i * step)] as const)
const lines = (pairs: readonly (readonly [number, number | string])[], by = ',') =>
  pairs.map(pair => pair.join(by)).join('\n')

describe('a spectrum from a file', () => {
  // CIE 015:2018, illuminant A; the table's own numbers through the file must come back as the illuminant.
  const a = every(5, nm => illuminants.A[(nm - 380) / 5]!)
  test.each([
    ['commas', `nm,power\n${lines(a)}`],
    ['semicolons and decimal commas', lines(a, ';').replaceAll('.', ',')],
    ['tabs, remarks and an empty line', `# lamp of the bench\n\n${lines(a, '\t')}\n`],
    ['pairs', JSON.stringify(a)],
    ['an object', JSON.stringify(Object.fromEntries(a))],
    ['start and step', JSON.stringify({ startNm: 380, stepNm: 5, values: a.map(pair => pair[1]) })],
  ])('%s', (_, text) => {
    expect(illuminantWhite(parseSpectrum(text, 'lamp.csv'))).toEqual(illuminantWhite('A'))
  })

  test('beyond the visible is left out, between the values it is straight', () => {
    const ramp = parseSpectrum(lines(every(10, nm => nm, 300, 850)), 'ramp.csv')
    const spectrum = illuminantSpectrum(ramp)
    // A straight line keeps its ratio at every nanometre; double precision.
    expect(spectrum[401 - 1]! / spectrum[0]!).toBeCloseTo(780 / 380, 12)
    expect(spectrum[33]! / spectrum[0]!).toBeCloseTo(413 / 380, 12)
  })

  test.each([
    ['words only', 'a table\nof words', 'holds no numbers'],
    ['a word between', lines(every(5, nm => (nm === 400 ? 'n/a' : 1))), 'line 5'],
    ['NaN', lines(every(5, nm => (nm === 400 ? 'NaN' : 1))), 'no value at 400 nm'],
    ['null in JSON', JSON.stringify(every(5, nm => (nm === 400 ? 'x' : 1))), 'no value at 400 nm'],
    ['below 0', lines(every(5, nm => (nm === 400 ? -0.1 : 1))), 'never below 0'],
    ['a gap', lines(every(5, () => 1).filter(([nm]) => nm !== 500)), 'a gap from 495 to 505 nm'],
    ['wavelengths that fall', lines(every(5, () => 1).toReversed()), 'comes after'],
    ['too short', lines(every(5, () => 1, 400, 780)), 'covers 400 to 780 nm'],
    ['too coarse', lines(every(40, () => 1)), 'steps of 40 nm'],
    ['dark', lines(every(5, () => 0)), 'no light in the visible'],
    ['broken JSON', '{"startNm": 380,', 'is not JSON'],
    ['one value', '380, 1', 'has 1 values'],
  ])('%s is refused', (_, text, says) => {
    expect(() => parseSpectrum(text, 'lamp.csv')).toThrow(says)
  })
})
