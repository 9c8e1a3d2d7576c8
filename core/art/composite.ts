import { checkCancelled, type Task } from '../base/task.ts'
import { type BlendMode, filledBlend, isBlendMode } from './blend.ts'
import { boxHeight, boxWidth, intersect } from './box.ts'
import { isSoftShape, maskShare } from './composite-mask.ts'
import { type PlaneStore, planeStore, samplesOver } from './composite-planes.ts'
import { copySurface, emptySurface, fade, paint } from './composite-surface.ts'
import {
  type ArtFile,
  type Box,
  type ColorMode,
  type InkColor,
  type Layer,
  processCount,
  type Surface,
} from './layer.ts'

export type { Surface } from './layer.ts'

export interface CompositeOptions {
  /** Which layers (not groups) take part; all when absent. A clipped layer keeps its base's outline even where the base stays out. */
  readonly include?: (layer: Layer) => boolean
  /** Which layers and groups count as shown; the file's own eye when absent. */
  readonly visible?: (layer: Layer) => boolean
  /** Document pixels; the whole document when absent. */
  readonly region?: Box
  /** Rows a strip; about 2 million pixels when absent. */
  readonly stripRows?: number
  /** Bytes of decoded planes kept between strips; 256 MB when absent. */
  readonly keep?: number
  /** False: only where something is painted, and how much; the surfaces then have no planes, and no colour is read. */
  readonly colours?: boolean
  /** Layers that knock out of the picture what they lie on, where the file tells inks apart; none when absent. */
  readonly knocking?: ReadonlySet<string>
}

/**
 * The layers as one picture over a region, in the file's own colour mode and polarity, bottom to top:
 * isolated and pass-through groups, clipping, opacity and fill, masks, blend modes. Effects and adjustments
 * are left out (`notReproduced` lists them). Memory grows with the region; take strips of a large document.
 */
export async function composite(
  file: ArtFile,
  options: CompositeOptions = {},
  task?: Task,
): Promise<Surface> {
  const region = options.region ?? wholeDocument(file)
  return painterOf(file, options, task)(region)
}

/** The same picture in strips from top to bottom; one strip and the planes it needs are in memory at a time. */
export async function* compositeStrips(
  file: ArtFile,
  options: CompositeOptions = {},
  task?: Task,
): AsyncGenerator<Surface, void, undefined> {
  const region = options.region ?? wholeDocument(file)
  const rows = options.stripRows ?? Math.max(16, Math.floor(2 ** 21 / Math.max(1, boxWidth(region))))
  const painted = painterOf(file, options, task)
  for (let top = region.top; top < region.bottom; top += rows) {
    checkCancelled(task)
    task?.progress?.((top - region.top) / boxHeight(region), 'compositing layers')
    yield await painted({ ...region, top, bottom: Math.min(region.bottom, top + rows) })
  }
  task?.progress?.(1, 'compositing layers')
}

/** What paints the picture over a box: the file itself where it can, else layer after layer. */
function painterOf(
  file: ArtFile,
  options: CompositeOptions,
  task: Task | undefined,
): (box: Box) => Promise<Surface> {
  const context = contextOf(file, options, task)
  const nodes = tree(file.art.layers)
  if (file.paintLayers) {
    const shown = new Set(wantedLeaves(context, nodes))
    const how = { colours: options.colours !== false, knocking: options.knocking ?? new Set<string>() }
    return box => file.paintLayers!(shown, box, how, task)
  }
  return async box => {
    const out = emptySurface(box, context.planeCount)
    await paintNodes(context, nodes, out)
    return out
  }
}

const wholeDocument = ({ art }: ArtFile): Box => ({ left: 0, top: 0, right: art.width, bottom: art.height })

interface Context {
  readonly file: ArtFile
  readonly mode: ColorMode
  /** Of every surface: none where colours do not matter. */
  readonly planeCount: number
  readonly include: (layer: Layer) => boolean
  readonly visible: (layer: Layer) => boolean
  readonly planes: PlaneStore
  /** Arrays of layers that were painted, for the next one: fresh ones of megabytes cost more than what is put in them. */
  readonly spare: Float32Array[]
  readonly task: Task | undefined
}

function contextOf(file: ArtFile, options: CompositeOptions, task: Task | undefined): Context {
  return {
    file,
    mode: file.art.colorMode,
    planeCount: options.colours === false ? 0 : processCount(file.art.colorMode),
    include: options.include ?? (() => true),
    visible: options.visible ?? (layer => layer.visible),
    planes: planeStore(file, options.keep ?? 256 * 2 ** 20),
    spare: [],
    task,
  }
}

interface Node {
  readonly layer: Layer
  /** Bottom to top; empty for layers. */
  readonly children: readonly Node[]
}

function tree(layers: readonly Layer[], parent: string | null = null): Node[] {
  return layers
    .filter(layer => layer.parent === parent)
    .map(layer => ({ layer, children: layer.kind === 'group' ? tree(layers, layer.id) : [] }))
}

/** Ids of the layers that take part. */
function wantedLeaves(context: Context, nodes: readonly Node[]): readonly string[] {
  return nodes
    .filter(node => wanted(context, node))
    .flatMap(node => (node.layer.kind === 'group' ? wantedLeaves(context, node.children) : [node.layer.id]))
}

/** Whether anything of a node is wanted at all. */
function wanted(context: Context, node: Node): boolean {
  if (!context.visible(node.layer)) return false
  return node.layer.kind === 'group'
    ? node.children.some(child => wanted(context, child))
    : context.include(node.layer)
}

async function paintNodes(context: Context, nodes: readonly Node[], target: Surface): Promise<void> {
  for (let i = 0; i < nodes.length; ) {
    checkCancelled(context.task)
    const base = nodes[i]!
    let end = i + 1
    while (end < nodes.length && nodes[end]!.layer.clipped) end++
    const clips = nodes.slice(i + 1, end).filter(clip => wanted(context, clip))
    i = end
    if (!context.visible(base.layer)) continue
    if (wanted(context, base) || clips.length > 0) await paintRun(context, base, clips, target)
  }
}

/** A layer or group with the layers clipped to it. */
async function paintRun(
  context: Context,
  base: Node,
  clips: readonly Node[],
  target: Surface,
): Promise<void> {
  const { layer } = base
  const mode: BlendMode = isBlendMode(layer.blendMode) ? layer.blendMode : 'normal'
  if (layer.kind === 'group' && mode === 'passThrough' && clips.length === 0) {
    await paintThrough(context, base, target)
    return
  }
  const source =
    layer.kind === 'group'
      ? await groupSource(context, base, target.box)
      : await layerSource(context, layer, target.box)
  if (!source) return
  const painted = clips.length > 0 ? await clipped(context, base, clips, source) : source
  const inside = layer.fillOpacity < 1 && filledBlend(mode, layer.fillOpacity) !== null
  await weaken(context, layer, painted, inside ? layer.opacity : layer.opacity * layer.fillOpacity)
  paint(target, painted, {
    mode: mode === 'passThrough' || mode === 'dissolve' ? 'normal' : mode,
    fill: inside ? layer.fillOpacity : 1,
    colorMode: context.mode,
  })
  context.spare.push(...[source.alpha, ...source.planes].slice(0, mostSpare - context.spare.length))
}

/** As many as one layer has in any colour mode. */
const mostSpare = 5

/** An array of zeros, a spare one where it is large enough. */
function zeros({ spare }: Context, size: number): Float32Array {
  const at = spare.findIndex(one => one.buffer.byteLength >= 4 * size)
  if (at < 0) return new Float32Array(size)
  const [found] = spare.splice(at, 1)
  return new Float32Array(found!.buffer, 0, size).fill(0)
}

async function paintThrough(context: Context, { layer, children }: Node, target: Surface): Promise<void> {
  const mask = await maskShare(context.file.art, layer, target.box, context.planes)
  const opacity = layer.opacity * layer.fillOpacity
  if (!mask && opacity >= 1) {
    await paintNodes(context, children, target)
    return
  }
  const before = copySurface(target)
  await paintNodes(context, children, target)
  const share = mask ?? new Float32Array(target.alpha.length).fill(1)
  fade(target, before, opacity < 1 ? share.map(v => v * opacity) : share)
}

async function groupSource(context: Context, node: Node, box: Box): Promise<Surface> {
  const out = emptySurface(box, context.planeCount)
  await paintNodes(context, node.children, out)
  return out
}

/** A layer's own pixels where they meet `box`, before masks and opacity; null when it has none there. */
async function layerSource(context: Context, layer: Layer, box: Box): Promise<Surface | null> {
  if (layer.kind === 'adjustment') return null
  const count = processCount(context.mode)
  const channels = Array.from({ length: count }, (_, i) => i)
  const pixels = channels.every(id => layer.channelIds.includes(id)) && boxWidth(layer.box) > 0
  if (!pixels || (isSoftShape(layer) && layer.fill && fillSamples(layer.fill, context.mode)))
    return layer.fill ? solidSource(context, layer.fill, box) : null
  const part = intersect(layer.box, box)
  if (boxWidth(part) === 0 || boxHeight(part) === 0) return null
  const shape = layer.channelIds.includes(-1) ? await context.planes.layer(layer.id, -1, part) : null
  const size = boxWidth(part) * boxHeight(part)
  const alpha = shape ? samplesOver(shape, part, 0, zeros(context, size)) : zeros(context, size).fill(1)
  const planes: Float32Array[] = []
  for (const id of channels.slice(0, context.planeCount)) {
    const plane = await context.planes.layer(layer.id, id, part)
    if (!plane) return null
    planes.push(samplesOver(plane, part, 0, zeros(context, size), alpha))
  }
  return { box: part, planes, alpha }
}

/** A fill without a raster covers everything; its masks cut it. */
function solidSource(context: Context, fill: InkColor, box: Box): Surface | null {
  const values = fillSamples(fill, context.mode)
  if (!values) return null
  const out = emptySurface(box, context.planeCount)
  out.alpha.fill(1)
  out.planes.forEach((plane, i) => {
    plane.fill(values[i]!)
  })
  return out
}

/** Ink numbers as samples of the mode, where they are numbers of that mode; else null. */
export function fillSamples(fill: InkColor, mode: ColorMode): readonly number[] | null {
  const v = fill.values
  if (fill.space === 'CMYK' && mode === 'CMYK') return v.map(ink => 1 - ink)
  if (fill.space === 'RGB' && mode === 'RGB') return v
  if (fill.space === 'Gray' && mode === 'Grayscale') return v
  if (fill.space === 'Lab' && mode === 'Lab') return [v[0]! / 100, (v[1]! + 128) / 255, (v[2]! + 128) / 255]
  return null
}

/** The clipped layers painted over their base's colour, inside the base's outline. */
async function clipped(
  context: Context,
  base: Node,
  clips: readonly Node[],
  source: Surface,
): Promise<Surface> {
  const shown = wanted(context, base)
  const inner = shown
    ? { ...copySurface(source), alpha: new Float32Array(source.alpha.length).fill(1) }
    : emptySurface(source.box, source.planes.length)
  await paintNodes(
    context,
    clips.map(clip => ({ ...clip, layer: { ...clip.layer, clipped: false } })),
    inner,
  )
  for (let i = 0; i < inner.alpha.length; i++) inner.alpha[i] = inner.alpha[i]! * source.alpha[i]!
  return inner
}

/** Multiplies a source's alpha by its masks and by `opacity`. */
async function weaken(context: Context, layer: Layer, source: Surface, opacity: number): Promise<void> {
  const mask = await maskShare(context.file.art, layer, source.box, context.planes)
  if (!mask && opacity >= 1) return
  for (let i = 0; i < source.alpha.length; i++)
    source.alpha[i] = source.alpha[i]! * opacity * (mask ? mask[i]! : 1)
}
