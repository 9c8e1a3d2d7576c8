import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { forPictures, openColorEngine } from '../../../core/color/profile.ts'
import { requirePrinting } from '../../../core/color/profile-header.ts'
import { readPrintCondition } from '../../../core/color/read-condition.ts'

// Layout of head and tag table: ICC.1:2022, sections 7.2 and 7.3.
const good = new Uint8Array(
  readFileSync(new URL('../../../core/data/icc/ISOcoated_v2_300_bas.icc', import.meta.url)),
)
const engine = await openColorEngine()

function patched(change: (icc: Uint8Array, view: DataView) => void, length = good.length): Uint8Array {
  const icc = new Uint8Array(length)
  icc.set(good.subarray(0, length))
  change(icc, new DataView(icc.buffer))
  return icc
}
const write = (icc: Uint8Array, at: number, letters: string) =>
  icc.set(
    [...letters].map(letter => letter.charCodeAt(0)),
    at,
  )
/** Place in the tag table of the tag with this name. */
const entryOf = (icc: Uint8Array, name: string) => {
  for (let at = 132; ; at += 12) if (String.fromCharCode(...icc.subarray(at, at + 4)) === name) return at
}
const read = (icc: Uint8Array) => readPrintCondition(engine, icc, forPictures, 'press.icc')
const whole = () => undefined

describe('a profile that is no print condition says why', () => {
  test.each<[string, Uint8Array, string, RegExp]>([
    ['empty', new Uint8Array(0), 'profile-unreadable', /0 bytes that are no ICC profile/],
    ['something else', new Uint8Array(5000).fill(7), 'profile-unreadable', /no ICC profile/],
    ['cut off', good.slice(0, 400_000), 'profile-truncated', /says it has 1052612 bytes, but only 400000/],
    ['cut off in the head', good.slice(0, 90), 'profile-unreadable', /90 bytes/],
    ['too long for what it says', patched(whole, good.length + 4000), 'profile-size', /1052612.*1056612/],
    [
      'says it is longer',
      patched((_, view) => view.setUint32(0, 2_000_000)),
      'profile-truncated',
      /2000000 bytes/,
    ],
    [
      'says it is shorter',
      patched((_, view) => view.setUint32(0, 200_000)),
      'profile-size',
      /tag "A2B\d|tag "B2A\d/,
    ],
    ['version 5', patched(icc => icc.fill(5, 8, 9)), 'profile-version', /version 5.*iccMAX/],
    ['for a screen', patched(icc => write(icc, 12, 'mntr')), 'profile-class', /describes a screen/],
    [
      'RGB',
      patched(icc => {
        write(icc, 12, 'mntr')
        write(icc, 16, 'RGB ')
      }),
      'profile-class',
      /screen/,
    ],
    ['RGB printing', patched(icc => write(icc, 16, 'RGB ')), 'profile-space', /stands for RGB, not for CMYK/],
    ['Lab', patched(icc => write(icc, 16, 'Lab ')), 'profile-space', /stands for Lab/],
    ['named colours', patched(icc => write(icc, 12, 'nmcl')), 'profile-class', /named colours/],
    ['to no colour', patched(icc => write(icc, 20, 'CMYK')), 'profile-connection', /"CMYK"/],
    [
      'a tag beyond the end',
      patched((icc, view) => view.setUint32(entryOf(icc, 'A2B1') + 4, good.length - 10)),
      'profile-size',
      /"A2B1"/,
    ],
    [
      'more tags than bytes',
      patched((_, view) => view.setUint32(128, 0x10000000)),
      'profile-size',
      /tags, more than/,
    ],
    [
      'one way only',
      patched(icc => {
        for (const n of [0, 1, 2]) write(icc, entryOf(icc, `A2B${n}`), `xxx${n}`)
      }),
      'profile-one-way',
      /no table from ink to colour/,
    ],
  ])('%s', (_, icc, code, words) => {
    const attempt = () => read(icc)
    expect(attempt).toThrow(words)
    expect(attempt).toThrow(expect.objectContaining({ name: 'BadInput', code, subject: 'press.icc' }))
  })

  // The colour tables are all at 0 = L* 0: a picture of black, if nobody looked.
  test('black throughout', () => {
    const icc = patched((icc, view) => {
      for (const n of [0, 1, 2]) {
        const entry = entryOf(icc, `A2B${n}`)
        const start = view.getUint32(entry + 4)
        // Past the head of mft2 (52 bytes) and the input curves, which stay: 4 × 256 entries of two bytes.
        icc.fill(0, start + 52 + 2048, start + view.getUint32(entry + 8))
      }
    })
    expect(() => read(icc)).toThrow(/bare paper has L\* 0/)
  })

  test('four bytes short of a whole word are no lie', () => {
    expect(requirePrinting(patched(whole, good.length + 3), 'press.icc').space).toBe('CMYK')
  })
})
