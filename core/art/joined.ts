import { BadInput, type Finding } from '../base/finding.ts'
import type { Task } from '../base/task.ts'
import { boxHeight, boxWidth } from './box.ts'
import { composite } from './composite.ts'
import { paint } from './composite-surface.ts'
import { type InLight, lightIn } from './joined-colour.ts'
import {
  type Art,
  type ArtFile,
  type Box,
  type Channel,
  type DrawnEdges,
  type EdgesOf,
  type Layer,
  type PaintHow,
  type Plane,
  processCount,
  type Rows,
  type Surface,
} from './layer.ts'

/** How far the sizes of two files of one piece of art may differ, mm. */
const sizeTolerance = 0.5

/** The resolution that a drawing is to be opened with, so that its pixels are those of the image that it lies over. */
export const joinedPpi = (image: Art, drawingWidthMm: number): number =>
  image.resolutionPpi ?? (image.width * 25.4) / drawingWidthMm

/** C, M, Y and K, 0..1, of red, green and blue, 0..1, pixel after pixel. */
export type SeparateLight = (light: Float32Array) => Float32Array

/**
 * An image and a drawing over it as one piece of art; both begin at the lower left corner. It has the colours, size
 * and plates of the image. A drawing's own inks become plates; one that the image has as well is printed by both.
 * @param image     a raster, `below`
 * @param drawing   opened with {@link joinedPpi}
 * @param separate  where the image is CMYK and the drawing is not; null: none is at hand, and its colours are guessed
 * @throws BadInput where their colours cannot lie in one picture
 */
export function joinedArt(image: ArtFile, drawing: ArtFile, separate: SeparateLight | null): ArtFile {
  return new JoinedFile(image, drawing, separate)
}

class JoinedFile implements ArtFile {
  readonly art: Art
  /** From the drawing's rows to those of the image. */
  private readonly down: number
  /** The drawing's own ids by those that its layers have here. */
  private readonly own = new Map<string, string>()
  private readonly light: InLight
  /** Colours of the layer, and the rows of the whole picture, that were asked for last: planes are wanted one by one. */
  private last: { readonly key: string; readonly planes: Promise<readonly Plane[]> } | null = null
  private picture: { readonly key: string; readonly surface: Promise<Surface> } | null = null

  constructor(
    private readonly image: ArtFile,
    private readonly drawing: ArtFile,
    separate: SeparateLight | null,
  ) {
    const below = image.art
    const above = drawing.art
    const findings: Finding[] = [...sizeFindings(below, above)]
    const light = lightIn(below.colorMode, above.colorMode, separate, findings)
    if (light === null)
      throw new BadInput(
        'joined-colours',
        above.name,
        'its colours',
        `they are ${above.colorMode} and cannot lie over ${below.colorMode} colours of "${below.name}"`,
        'Save the image as CMYK, RGB or grey.',
      )
    this.light = light
    this.down = below.height - above.height
    const taken = new Set(below.layers.map(layer => layer.id))
    for (const { id } of above.layers) {
      let fresh = id
      for (let n = 2; taken.has(fresh); n++) fresh = `${id} ${n}`
      taken.add(fresh)
      this.own.set(fresh, id)
    }
    const here = new Map([...this.own].map(([fresh, id]) => [id, fresh]))
    const channels = joinedChannels(below, above, here)
    const channelOf = (id: string) => {
      const name = above.channels.find(channel => channel.id === id)?.name
      return channels.find(channel => channel.name === name)?.id ?? id
    }
    const planeOf = (plane: number) => {
      const name = above.channels.find(channel => channel.plane === plane)?.name
      return channels.find(channel => channel.name === name)?.plane ?? plane
    }
    const process = Array.from({ length: processCount(below.colorMode) }, (_, i) => i)
    const moved = (layer: Layer): Layer => ({
      ...layer,
      id: here.get(layer.id)!,
      parent: layer.parent === null ? null : here.get(layer.parent)!,
      box: this.shifted(layer.box),
      channelIds: layer.channelIds.length === 0 ? [] : [-1, ...process],
      ...(layer.inks === undefined ? {} : { inks: layer.inks.map(channelOf) }),
      ...(layer.outlines === undefined
        ? {}
        : { outlines: layer.outlines.map(one => ({ ...one, planes: one.planes.map(planeOf) })) }),
    })
    const page = pageOf(below, above)
    const named = ({ findings: told, name }: Art) =>
      told.map(one => ({ ...one, where: `${name}, ${one.where}` }))
    this.art = {
      ...below,
      resolutionPpi: below.resolutionPpi ?? above.resolutionPpi,
      layers: [...below.layers, ...above.layers.map(moved)],
      channels,
      paths: [...below.paths, ...above.paths],
      findings: [...named(below), ...named(above), ...findings],
      ...(page === undefined ? {} : { page }),
    }
  }

  async layerPlane(layerId: string, channelId: number, rows?: Rows): Promise<Plane | null> {
    const id = this.own.get(layerId)
    if (id === undefined) return this.image.layerPlane(layerId, channelId, rows)
    const there = rows && this.back(rows)
    if (channelId < 0) return this.moved(await this.drawing.layerPlane(id, channelId, there))
    const key = JSON.stringify([id, there])
    if (this.last?.key !== key) this.last = { key, planes: this.colours(id, there) }
    return this.moved((await this.last.planes)[channelId] ?? null)
  }

  private async colours(id: string, rows: Rows | undefined): Promise<readonly Plane[]> {
    const planes: Plane[] = []
    for (let c = 0; c < processCount(this.drawing.art.colorMode); c++) {
      const plane = await this.drawing.layerPlane(id, c, rows)
      if (plane === null) return []
      planes.push(plane)
    }
    const { box } = planes[0]!
    const parts = planes.map(({ data }) => Float32Array.from(data, value => value / largest(data)))
    return this.light(parts).map(values => ({
      box,
      data: Uint8Array.from(values, value => Math.round(255 * value)),
    }))
  }

  async maskPlane(layerId: string): Promise<Plane | null> {
    const id = this.own.get(layerId)
    return id === undefined ? this.image.maskPlane(layerId) : this.moved(await this.drawing.maskPlane(id))
  }

  async vectorMaskPlane(layerId: string): Promise<Plane | null> {
    const id = this.own.get(layerId)
    return id === undefined
      ? this.image.vectorMaskPlane(layerId)
      : this.moved(await this.drawing.vectorMaskPlane(id))
  }

  async documentPlane(index: number, rows?: Rows): Promise<Plane> {
    const { art, image, drawing } = this
    const process = processCount(art.colorMode)
    const top = Math.max(0, rows?.top ?? 0)
    const box: Box = {
      left: 0,
      right: art.width,
      top,
      bottom: Math.max(top, Math.min(art.height, rows?.bottom ?? art.height)),
    }
    const wide = art.depth === 16
    const most = wide ? 65_535 : 255
    if (index < process) {
      // Where nothing is painted the paper is seen, which all colours here have as their highest value.
      const key = `${box.top} ${box.bottom}`
      if (this.picture?.key !== key) this.picture = { key, surface: composite(this, { region: box }) }
      const surface = await this.picture.surface
      const out = wide ? new Uint16Array(surface.alpha.length) : new Uint8Array(surface.alpha.length)
      const plane = surface.planes[index]!
      for (let i = 0; i < out.length; i++)
        out[i] = Math.round(most * (1 - surface.alpha[i]! * (1 - plane[i]!)))
      return { box, data: out }
    }
    const channel = art.channels.find(one => one.plane === index)
    if (channel === undefined) throw new RangeError(`documentPlane: there is no plane ${index}`)
    const has = (one: Art) =>
      one.channels.find(other => other.name === channel.name && other.kind === channel.kind)
    const [below, above] = [has(image.art), has(drawing.art)]
    const own = below === undefined ? null : await image.documentPlane(below.plane, box)
    if (above === undefined) return own!
    const data = wide
      ? new Uint16Array(boxWidth(box) * boxHeight(box))
      : new Uint8Array(boxWidth(box) * boxHeight(box))
    if (own === null) data.fill(most)
    else data.set(own.data)
    darken(data, box, this.moved(await drawing.documentPlane(above.plane, this.back(box)))!, most)
    return { box, data }
  }

  async paintLayers(
    layers: ReadonlySet<string>,
    box: Box,
    how: PaintHow,
    task: Task | undefined,
  ): Promise<Surface> {
    const { image, drawing } = this
    const all = () => true
    const out = await composite(
      image,
      { include: layer => layers.has(layer.id), visible: all, region: box, colours: how.colours },
      task,
    )
    const inDrawing = (ids: ReadonlySet<string>) => new Set([...ids].flatMap(id => this.own.get(id) ?? []))
    const there = inDrawing(layers)
    if (there.size === 0) return out
    const region = this.unshifted(box)
    const seen = drawing.paintLayers
      ? await drawing.paintLayers(there, region, { ...how, knocking: inDrawing(how.knocking) }, task)
      : await composite(
          drawing,
          { include: layer => there.has(layer.id), visible: all, region, colours: how.colours },
          task,
        )
    const source: Surface = { ...seen, box, planes: how.colours ? this.light(seen.planes) : [] }
    paint(out, source, { mode: 'normal', fill: 1, colorMode: this.art.colorMode })
    return out
  }

  /** Of the drawing's own layers: what it is drawn by; all else is pixels. */
  edges(of: EdgesOf, task: Task | undefined): DrawnEdges | null {
    if (of.kind !== 'layers' || ![...of.layers].every(id => this.own.has(id))) return null
    const layers = new Set([...of.layers].map(id => this.own.get(id)!))
    const found = this.drawing.edges?.({ kind: 'layers', layers }, task) ?? null
    return found?.below === null ? found : null
  }

  release(): void {
    this.image.release?.()
    this.drawing.release?.()
  }

  private moved(plane: Plane | null): Plane | null {
    return plane === null ? null : { ...plane, box: this.shifted(plane.box) }
  }

  private shifted(box: Box): Box {
    return { ...box, top: box.top + this.down, bottom: box.bottom + this.down }
  }

  private unshifted(box: Box): Box {
    return { ...box, top: box.top - this.down, bottom: box.bottom - this.down }
  }

  private back(rows: Rows): Rows {
    return { top: rows.top - this.down, bottom: rows.bottom - this.down }
  }
}

const largest = (data: Plane['data']): number =>
  data instanceof Uint8Array ? 255 : data instanceof Uint16Array ? 65_535 : 1

/** More ink of the two at every place. */
function darken(data: Uint8Array | Uint16Array, box: Box, plane: Plane, most: number): void {
  const width = boxWidth(box)
  const scale = most / largest(plane.data)
  const right = Math.min(box.right, plane.box.right)
  for (let y = Math.max(box.top, plane.box.top); y < Math.min(box.bottom, plane.box.bottom); y++)
    for (let x = Math.max(box.left, plane.box.left); x < right; x++) {
      const at = (y - box.top) * width + x - box.left
      const value = plane.data[(y - plane.box.top) * boxWidth(plane.box) + x - plane.box.left]! * scale
      if (value < data[at]!) data[at] = value
    }
}

/** The image's channels, then inks that the drawing alone has. */
function joinedChannels(below: Art, above: Art, here: ReadonlyMap<string, string>): readonly Channel[] {
  const channels: Channel[] = [...below.channels]
  for (const channel of above.channels) {
    const layers = channel.layers?.flatMap(id => here.get(id) ?? [])
    const same = channels.findIndex(one => one.name === channel.name && one.kind === channel.kind)
    if (same >= 0) continue
    let id = channel.id
    for (let n = 2; channels.some(one => one.id === id); n++) id = `${channel.id} ${n}`
    channels.push({
      ...channel,
      id,
      plane: processCount(below.colorMode) + channels.length,
      ...(layers === undefined ? {} : { layers }),
    })
  }
  return channels
}

/** The page of the image where it has several, with what is not exact in either. */
function pageOf({ page: below }: Art, { page: above }: Art): Art['page'] {
  if (above === undefined) return below
  // All of the art is as large as its image.
  const { sizeMm: _, ...drawn } = above
  if (below === undefined) return drawn
  return {
    ...below,
    fonts: [...below.fonts, ...above.fonts],
    inexact: [...below.inexact, ...above.inexact],
  }
}

function sizeFindings(below: Art, above: Art): readonly Finding[] {
  const ppi = below.resolutionPpi ?? above.resolutionPpi
  if (ppi === null) return []
  const mm = (pixels: number) => (pixels * 25.4) / ppi
  const off = Math.max(mm(Math.abs(below.width - above.width)), mm(Math.abs(below.height - above.height)))
  if (off <= sizeTolerance) return []
  const size = ({ width, height }: Art) => `${mm(width).toFixed(1)} × ${mm(height).toFixed(1)} mm`
  return [
    {
      severity: 'warning',
      code: 'joined-sizes',
      where: above.name,
      message: `the drawing is ${size(above)}, "${below.name}" is ${size(below)}; both begin at the lower left corner`,
      fix: 'Save both with one size, or check that they lie as they should.',
    },
  ]
}
