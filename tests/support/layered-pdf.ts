import { smallPdf } from '../core/art/pdf/small-pdf.ts'

/** A rectangle in an ink of its own, mm from the lower left corner of the page. */
export interface Inked {
  readonly layer: string
  readonly ink: string
  readonly box: readonly [left: number, bottom: number, width: number, height: number]
  /** CMYK that stands for the ink, 0..1. */
  readonly cmyk?: readonly [number, number, number, number]
}

const point = 72 / 25.4

/**
 * A page of 100 × 60 mm with a layer for each rectangle, written as text.
 * @param more entries of the attributes of a DeviceN space that names all inks, such as MixingHints
 */
export function layeredPdf(parts: readonly Inked[], more = ''): Uint8Array {
  const inks = [...new Map(parts.map(one => [one.ink, one])).values()]
  const layers = [...new Set(parts.map(one => one.layer))]
  const objects: Record<number, string | readonly [string, string]> = {}
  for (const [i, layer] of layers.entries()) objects[20 + i] = `<< /Type /OCG /Name (${layer}) >>`
  for (const [i, { ink, cmyk = [0, 0, 0, 0.5] }] of inks.entries())
    objects[50 + i] =
      `[/Separation /${named(ink)} /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [${cmyk.join(' ')}] /N 1 >>]`
  if (more !== '') {
    const all = inks.map(({ ink }) => `/${named(ink)}`).join(' ')
    objects[90] = `[/DeviceN [${all}] /DeviceCMYK 91 0 R << ${more} >>]`
    objects[91] = [
      `/FunctionType 4 /Domain [${inks.map(() => '0 1').join(' ')}] /Range [0 1 0 1 0 1 0 1]`,
      `{ ${inks.map(() => 'pop').join(' ')} 0 0 0 0 }`,
    ]
  }
  const content = parts.map(({ layer, ink, box: [left, bottom, width, height] }) => {
    const at = [left, bottom, width, height].map(mm => (mm * point).toFixed(4)).join(' ')
    const space = inks.findIndex(one => one.ink === ink)
    return `/OC /L${layers.indexOf(layer)} BDC /S${space} cs 1 scn ${at} re f EMC`
  })
  return smallPdf({
    content: content.join('\n'),
    page: `/MediaBox [0 0 ${100 * point} ${60 * point}]`,
    catalog: `/OCProperties << /OCGs [${layers.map((_, i) => `${20 + i} 0 R`).join(' ')}] /D << >> >>`,
    resources: `/Properties << ${layers.map((_, i) => `/L${i} ${20 + i} 0 R`).join(' ')} >> /ColorSpace << ${inks.map((_, i) => `/S${i} ${50 + i} 0 R`).join(' ')} >>`,
    objects,
  })
}

const named = (ink: string): string => ink.replaceAll(' ', '#20')
