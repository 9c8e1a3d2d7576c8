import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { decodePng } from '../../../core/base/png.ts'
import { writePng } from '../../../core/export/png.ts'

const bytes = Uint8Array.from({ length: 5 * 3 * 3 }, (_, i) => (i * 37) % 256)
const words = Uint16Array.from({ length: 5 * 3 * 3 }, (_, i) => (i * 4099) % 65536)

describe('PNG', () => {
  test('8 and 16 bits come back as they went in', () => {
    for (const data of [bytes, words])
      expect(decodePng(writePng({ width: 5, height: 3, channels: 3, data }, 'srgb')).data).toEqual(data)
  })

  test('the sRGB chunk stands after the header, bytes as every sRGB PNG has them', () => {
    const png = writePng({ width: 5, height: 3, channels: 3, data: bytes }, 'srgb')
    // Length, name, perceptual intent and the CRC that goes with them; common practice, seen in countless files.
    expect([...png.subarray(33, 46)]).toEqual([0, 0, 0, 1, 0x73, 0x52, 0x47, 0x42, 0, 0xae, 0xce, 0x1c, 0xe9])
  })

  test('a display-p3 picture carries the code points of H.273', () => {
    const png = writePng({ width: 5, height: 3, channels: 3, data: bytes }, 'display-p3')
    expect(String.fromCharCode(...png.subarray(37, 41))).toBe('cICP')
    expect([...png.subarray(41, 45)]).toEqual([12, 13, 0, 1])
  })

  // ImageMagick is an independent reader; where it is missing the file is still checked above.
  test.skipIf(!hasIdentify())('an independent reader accepts both depths', () => {
    const folder = mkdtempSync(join(tmpdir(), 'png-'))
    try {
      for (const [data, depth] of [
        [bytes, 8],
        [words, 16],
      ] as const) {
        const path = join(folder, `${depth}.png`)
        writeFileSync(path, writePng({ width: 5, height: 3, channels: 3, data }, 'srgb'))
        const said = execFileSync('identify', ['-format', '%w %h %z %[colorspace]', path], {
          encoding: 'utf8',
        })
        expect(said).toBe(`5 3 ${depth} sRGB`)
      }
    } finally {
      rmSync(folder, { recursive: true })
    }
  })
})

function hasIdentify(): boolean {
  try {
    execFileSync('identify', ['-version'], { stdio: 'ignore' })
    return true
  } catch {
    return false
  }
}
