import type { PdfText } from '../pdf-write.ts'

/** A linear tint transform to CMYK. */
const linear = (cmyk: readonly number[]): string =>
  `<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [${cmyk.join(' ')}] /N 1 >>`

/** One spot ink of this name. @param name  as PDF writes it: `Comet#20orange` */
export const separation = (name: string, cmyk: readonly number[]): string =>
  `[/Separation /${name} /DeviceCMYK ${linear(cmyk)}]`

/** The inks of the pages: name of the resource, and the space. */
export const white = separation('White', [0, 0, 0, 0])
export const holo = separation('Holo#20foil', [0.3, 0, 0.1, 0.1])
export const orange = separation('Comet#20orange', [0, 0.6, 0.9, 0])

/** Resource entries `/W /H /O`: white, holographic foil, comet orange. */
export const spots = `/W ${white} /H ${holo} /O ${orange}`

/**
 * Several inks in one space. Its alternate is a mix of the first three and says nothing that a reader of inks may use.
 * @param more  entries of attributes, if any
 */
export function deviceN(pdf: PdfText, names: readonly string[], more = ''): string {
  const mix = pdf.stream(
    `/FunctionType 4 /Domain [${names.map(() => '0 1').join(' ')}] /Range [0 1 0 1 0 1 0 1]`,
    `{ ${'pop '.repeat(names.length - 1)} dup 0 0 0.5 }`,
  )
  return `[/DeviceN [${names.map(name => `/${name}`).join(' ')}] /DeviceCMYK ${mix} ${more === '' ? '' : `<< ${more} >>`}]`
}

/** The page's own group, which says what colours are blended in. */
export const cmykGroup = '/Group << /S /Transparency /CS /DeviceCMYK /I true >>'

/** The same of light. */
export const rgbGroup = '/Group << /S /Transparency /CS /DeviceRGB /I true >>'

/** A box filled. */
export const box = (x: number, y: number, width: number, height: number): string =>
  `${x} ${y} ${width} ${height} re f`

/** A circle of four curves. */
export function circle(x: number, y: number, r: number): string {
  const h = ((4 / 3) * Math.tan(Math.PI / 8) * r).toFixed(4)
  const k = Number(h)
  return [
    `${x + r} ${y} m`,
    `${x + r} ${y + k} ${x + k} ${y + r} ${x} ${y + r} c`,
    `${x - k} ${y + r} ${x - r} ${y + k} ${x - r} ${y} c`,
    `${x - r} ${y - k} ${x - k} ${y - r} ${x} ${y - r} c`,
    `${x + k} ${y - r} ${x + r} ${y - k} ${x + r} ${y} c h`,
  ].join(' ')
}
