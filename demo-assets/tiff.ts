import { compositeStrips } from '../core/art/composite.ts'
import { readArt } from '../core/art/read.ts'
import { memorySource } from '../core/base/source.ts'
import { writeTiff } from '../core/export/tiff.ts'
import { writePsd } from '../tests/support/psd-write.ts'
import { drawArt } from './art.ts'
import { documentOf, named } from './make.ts'
import { type Cover, height, ppi, width } from './page.ts'

/** Layers of holography that are painted: the drawing beside the TIFF has no place for them. */
const painted = ['Holo Milky Way', 'Holo comet tail'] as const

/**
 * The inks of the demo's carton front as one TIFF: C, M, Y, K with all that is printed, white, and how much of the foil is
 * embossed where that is painted. @param profile  of the press condition
 */
export async function makeTiff(profile: Uint8Array): Promise<Uint8Array> {
  const art = drawArt()
  const file = await readArt(memorySource('inks.psd', writePsd(documentOf(art))))
  const group = named(file.art.layers, 'Overprint')
  const above = (id: string | null): boolean => {
    const layer = file.art.layers.find(one => one.id === id)
    return layer !== undefined && (layer === group || above(layer.parent))
  }
  const inks = [0, 1, 2, 3].map(() => new Uint8Array(width * height))
  for await (const { box, planes, alpha } of compositeStrips(file, { include: layer => above(layer.id) }))
    for (const [p, plane] of planes.entries())
      inks[p]!.set(
        Uint8Array.from(plane, (value, i) => Math.round(255 * (1 - value) * alpha[i]!)),
        box.top * width,
      )
  const covers = [art.white, ...painted.map(name => coverOf(art, name))]
  const all = [...inks, ...covers.map(cover => Uint8Array.from(cover, share => Math.round(255 * share)))]
  const names = ['Cyan', 'Magenta', 'Yellow', 'Black', 'White', ...painted]
  return writeTiff(
    {
      width,
      height,
      depth: 8,
      color: { kind: 'inks', names },
      icc: profile,
      pixelsPerMm: ppi / 25.4,
      packed: 'deflate',
    },
    (top, bottom) => {
      const rows = new Uint8Array((bottom - top) * width * all.length)
      for (let i = 0; i < rows.length; i++) {
        const pixel = top * width + Math.floor(i / all.length)
        rows[i] = all[i % all.length]![pixel]!
      }
      return rows
    },
  )
}

/** Alpha of a layer over the page, 0..1. */
function coverOf({ layers }: ReturnType<typeof drawArt>, name: string): Cover {
  const cover = new Float32Array(width * height)
  for (const group of layers)
    for (const layer of 'children' in group ? group.children : [group]) {
      if (layer.name !== name || 'children' in layer) continue
      const { left, top, right, bottom } = layer.box
      const alpha = layer.planes[-1]
      if (!(alpha instanceof Uint8Array)) throw new TypeError('tiff: expected planes of bytes')
      for (let y = top, i = 0; y < bottom; y++)
        for (let x = left; x < right; x++, i++) cover[y * width + x] = alpha[i]! / 255
    }
  return cover
}
