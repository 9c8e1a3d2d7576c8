/**
 * Takes the letters that the demo art needs out of the DejaVu fonts (Debian: fonts-dejavu-core, fonts-dejavu-extra)
 * and writes them to letters.json, so that making the art asks for no font. Run: node demo-assets/letters.mjs
 */
import { readFileSync, writeFileSync } from 'node:fs'
import opentype from 'opentype.js'

const folder = '/usr/share/fonts/truetype/dejavu'
const wanted = {
  light: ['DejaVuSans-ExtraLight.ttf', 'ABDEHLNOPRSTUVY 0123456789hm°½·ö'],
  serif: ['DejaVuSerifCondensed.ttf', 'Eyepic 12m'],
  small: [
    'DejaVuSansCondensed.ttf',
    'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz 0123456789·×°¼½.,-+/',
  ],
  italic: ['DejaVuSerifCondensed-Italic.ttf', 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyzö '],
}

const out = {}
for (const [name, [file, letters]] of Object.entries(wanted)) {
  const bytes = readFileSync(`${folder}/${file}`)
  const font = opentype.parse(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength))
  const glyphs = {}
  for (const letter of letters) {
    const glyph = font.charToGlyph(letter)
    if (!glyph.unicode) throw new Error(`${file}: expected a glyph for "${letter}"`)
    glyphs[letter] = { advance: glyph.advanceWidth, path: commands(glyph.path.commands) }
  }
  out[name] = { unitsPerEm: font.unitsPerEm, glyphs, kerning: kerning(font, [...letters]) }
}
writeFileSync(new URL('letters.json', import.meta.url), `${JSON.stringify(out)}\n`)

/** Path in font units, y up: M x y, L x y, Q x1 y1 x y, Z. */
function commands(list) {
  return list
    .map(({ type, x1, y1, x, y }) =>
      type === 'Z' ? 'Z' : [type, ...(type === 'Q' ? [x1, y1] : []), x, y].join(' '),
    )
    .join(' ')
}

function kerning(font, letters) {
  const pairs = {}
  for (const a of letters)
    for (const b of letters) {
      const value = font.getKerningValue(font.charToGlyph(a), font.charToGlyph(b))
      if (value) pairs[a + b] = value
    }
  return pairs
}
