import fc from 'fast-check'
import { expect, test } from 'vitest'
import { canonicalJson } from '../../../core/base/canonical-json.ts'

// RFC 8785, section 3.2.2 and 3.2.3: the sample data and their canonical form.
test('the example of the standard', () => {
  const sample = `{
    "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
    "string": "\\u20ac$\\u000F\\u000aA'\\u0042\\u0022\\u005c\\\\\\"\\/",
    "literals": [null, true, false]
  }`
  expect(canonicalJson(JSON.parse(sample))).toBe(
    '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
  )
})

// Section 3.2.3: sorted by UTF-16 code units.
test('keys are in the order of the standard', () => {
  const keys = ['€', '\r', '\ufb33', '1', '😀', '\u0080', 'ö']
  const sorted = ['\r', '1', '\u0080', 'ö', '€', '😀', '\ufb33']
  const value = Object.fromEntries(keys.map(key => [key, 0]))
  expect(canonicalJson(value)).toBe(`{${sorted.map(key => `${JSON.stringify(key)}:0`).join(',')}}`)
})

test('the text says the value, in one way only', () => {
  fc.assert(
    fc.property(fc.jsonValue(), value => {
      const json = JSON.parse(JSON.stringify(value))
      const text = canonicalJson(json)
      expect(JSON.parse(text)).toEqual(json)
      expect(canonicalJson(JSON.parse(text))).toBe(text)
    }),
  )
})

test('what JSON cannot say is refused', () => {
  for (const value of [Number.NaN, Number.POSITIVE_INFINITY, 'half \ud83d', undefined, () => 0, 1n])
    expect(() => canonicalJson({ value: [value] })).toThrow('canonicalJson')
  expect(canonicalJson({ a: undefined, b: 1 })).toBe('{"b":1}')
})
