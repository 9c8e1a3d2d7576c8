/** A colour in one spelling: two lines of one colour compare equal. */
export function colorOf(text: string, current = '#000000'): string {
  const plain = text.trim().toLowerCase().replace(/\s+/g, ' ')
  if (plain === 'currentcolor') return current
  if (plain === 'none' || plain === 'transparent') return 'none'
  if (/^#[0-9a-f]{3,4}$/.test(plain)) return `#${[...plain.slice(1, 4)].map(one => one + one).join('')}`
  if (/^#(?:[0-9a-f]{6}|[0-9a-f]{8})$/.test(plain)) return plain.slice(0, 7)
  // A colour of the display, followed by the ink it stands for: the first tells colours apart as well.
  const [, list] = /^rgba?\(([^)]*)\)/.exec(plain) ?? []
  if (list !== undefined) {
    const parts = list.split(/[\s,/]+/).filter(Boolean)
    const bytes = parts
      .slice(0, 3)
      .map(one => (one.endsWith('%') ? Number.parseFloat(one) * 2.55 : Number(one)))
    if (bytes.length === 3 && bytes.every(Number.isFinite)) return hex(bytes)
  }
  return named.get(plain) ?? plain.replace(/ ?icc-color\(.*$/, '')
}

const hex = (bytes: readonly number[]) =>
  `#${bytes
    .map(one =>
      Math.round(Math.min(255, Math.max(0, one)))
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`

/** The sixteen colour names of HTML 4.01, section 6.5, and three that CSS adds. */
const named = new Map([
  ['black', '#000000'],
  ['silver', '#c0c0c0'],
  ['gray', '#808080'],
  ['grey', '#808080'],
  ['white', '#ffffff'],
  ['maroon', '#800000'],
  ['red', '#ff0000'],
  ['purple', '#800080'],
  ['fuchsia', '#ff00ff'],
  ['magenta', '#ff00ff'],
  ['green', '#008000'],
  ['lime', '#00ff00'],
  ['olive', '#808000'],
  ['yellow', '#ffff00'],
  ['navy', '#000080'],
  ['blue', '#0000ff'],
  ['teal', '#008080'],
  ['aqua', '#00ffff'],
  ['cyan', '#00ffff'],
])
