/** Alignment of a column. */
export type Align = 'left' | 'right'

/**
 * Rows as text: columns as wide as their widest cell, two spaces apart, no trailing space.
 * Characters outside the basic Latin ones count as one column.
 */
export function table(rows: readonly (readonly string[])[], aligns: readonly Align[], indent = 0): string {
  const widths = aligns.map((_, c) => Math.max(0, ...rows.map(row => length(row[c] ?? ''))))
  return rows
    .map(row => {
      const cells = aligns.map((align, c) => pad(row[c] ?? '', widths[c]!, align))
      return `${' '.repeat(indent)}${cells.join('  ')}`.trimEnd()
    })
    .join('\n')
}

/** A number with a fixed count of decimals and a true minus sign. */
export function decimals(value: number, count: number): string {
  const text = value.toFixed(count)
  return (Number(text) === 0 ? (0).toFixed(count) : text).replace('-', '−')
}

/** `1 layer`, `3 layers`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`
}

const length = (text: string): number => [...text].length

function pad(text: string, width: number, align: Align): string {
  const space = ' '.repeat(width - length(text))
  return align === 'left' ? text + space : space + text
}
