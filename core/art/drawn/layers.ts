import type { Finding } from '../../base/finding.ts'
import type { Ink } from '../ink/mark.ts'
import type { Bounds } from '../ink/outline.ts'
import type { InkPage, PageLayer } from '../ink/page.ts'
import type { Box, Channel, Layer } from '../layer.ts'
import { plainLayer } from '../plain-layer.ts'
import { stepFindings } from '../processing-steps.ts'
import type { StatedStep } from '../step.ts'
import { isNowhere } from './bounds.ts'
import { inkNames, type Leaf } from './leaves.ts'
import { plainShape, shapesOf } from './shapes.ts'

/** What the layers of a page are made with. */
export interface Drawing {
  readonly page: InkPage
  readonly leaves: readonly Leaf[]
  /** Colour space of the process inks, which come first, and how many there are. */
  readonly process: { readonly space: 'CMYK' | 'RGB'; readonly count: number }
  readonly pixelsPerMm: number
  /** Document pixels. */
  readonly height: number
}

/** Layers and channels of a page, and which leaf a layer is. */
export interface DrawnLayers {
  readonly layers: readonly Layer[]
  readonly channels: readonly Channel[]
  /** Number of the leaf by id of a layer that is no group. */
  readonly leafOf: ReadonlyMap<string, number>
}

/** The page's own layer: what lies in none of its layers. */
const ownName = 'Page'

/**
 * A layer of the page is a layer of the art, or a group where it has members: layers inside it, type, and then its
 * shapes. Bottom to top, a group above its members. Empty layers stay, so that what was decided of them stays.
 */
export function drawnLayers(drawing: Drawing): DrawnLayers {
  const { page, leaves } = drawing
  const layers: Layer[] = []
  const leafOf = new Map<string, number>()
  const taken = new Set<string>()
  const fresh = (wish: string): string => {
    let id = wish
    for (let n = 2; taken.has(id); n++) id = `${wish} ${n}`
    taken.add(id)
    return id
  }
  for (const layer of page.layers) taken.add(layer.id)

  const put = (leaf: number, id: string, name: string, parent: string | null, of: PageLayer | null): void => {
    leafOf.set(id, leaf)
    layers.push(leafLayer(drawing, leaves[leaf]!, id, name, parent, of))
  }
  const inside = (number: number | null, parent: string | null): void => {
    const own = leaves.flatMap((leaf, i) => (leaf.layer === number ? [i] : []))
    const below = page.layers.flatMap((layer, i) => (layer.parent === number ? [i] : []))
    const of = number === null ? null : page.layers[number]!
    // Members lie in the order of their lowest marks; layers without marks where the list has them.
    const members = [
      ...own.map(leaf => ({ lowest: leaf, put: () => putLeaf(leaf, parent, of, own.length) })),
      ...below.map(layer => ({
        lowest: lowestOf(drawing, layer) ?? Number.POSITIVE_INFINITY,
        put: () => putLayer(layer, parent),
      })),
    ].toSorted((a, b) => a.lowest - b.lowest)
    for (const member of members) member.put()
  }
  const putLeaf = (number: number, parent: string | null, of: PageLayer | null, count: number): void => {
    const leaf = leaves[number]!
    const above = of?.id ?? 'page'
    if (leaf.kind === 'text') {
      const words = shortened(leaf.text!)
      put(number, fresh(`${above} / "${words}"`), words, parent, of)
    } else if (of !== null) put(number, fresh(`${above} / shapes`), 'Shapes', parent, of)
    else if (leaf.spots !== null)
      put(
        number,
        fresh(`ink ${inkNames(page.inks, leaf.spots)}`),
        inkNames(page.inks, leaf.spots),
        parent,
        of,
      )
    else put(number, fresh('page'), count === 1 && page.layers.length === 0 ? ownName : 'Shapes', parent, of)
  }
  const putLayer = (number: number, parent: string | null): void => {
    const layer = page.layers[number]!
    const own = leaves.flatMap((leaf, i) => (leaf.layer === number ? [i] : []))
    const isGroup = own.length > 1 || page.layers.some(one => one.parent === number)
    if (!isGroup) {
      const [leaf] = own
      if (leaf !== undefined) put(leaf, layer.id, layer.name, parent, layer)
      else layers.push(emptyLayer(layer, parent))
      return
    }
    inside(number, layer.id)
    const members = layers.filter(one => one.parent === layer.id)
    layers.push({
      ...emptyLayer(layer, parent),
      kind: 'group',
      blendMode: 'passThrough',
      box: members.map(one => one.box).reduce(unite, noBox),
    })
  }
  inside(null, null)

  const channels = drawnChannels(drawing, layers, leafOf)
  const channelIds = new Map(channels.map(channel => [channel.plane, channel.id]))
  return {
    layers: layers.map(layer => {
      const leaf = leafOf.get(layer.id)
      const spots = leaf === undefined ? null : leaves[leaf]!.spots
      return spots === null ? layer : { ...layer, inks: spots.map(ink => channelIds.get(ink)!) }
    }),
    channels,
    leafOf,
  }
}

function leafLayer(
  { process, pixelsPerMm, height }: Drawing,
  leaf: Leaf,
  id: string,
  name: string,
  parent: string | null,
  of: PageLayer | null,
): Layer {
  const plain = plainShape(leaf, process)
  const outlines = shapesOf(leaf, process)
  const channelIds = [-1, ...Array.from({ length: process.count }, (_, i) => i)]
  return {
    ...plainLayer({
      id,
      name,
      kind: leaf.kind === 'text' ? 'text' : 'shape',
      box: pixels(leaf.bounds, pixelsPerMm, height),
      channelIds,
    }),
    parent,
    visible: of === null || (of.visible && of.prints),
    vectorMask: plain?.mask ?? null,
    fill: plain?.fill ?? null,
    text:
      leaf.text === null ? null : { value: leaf.text, boxMm: isNowhere(leaf.bounds) ? null : leaf.bounds },
    // Said once, of the layer itself.
    findings: of === null || parent === of.id ? [] : layerFindings(of),
    ...(outlines === null ? {} : { outlines }),
    ...(of?.step ? { step: of.step } : {}),
  }
}

function emptyLayer(layer: PageLayer, parent: string | null): Layer {
  return {
    ...plainLayer({ id: layer.id, name: layer.name, kind: 'pixel', box: noBox, channelIds: [] }),
    parent,
    visible: layer.visible && layer.prints,
    findings: layerFindings(layer),
    ...(layer.step === null ? {} : { step: layer.step }),
  }
}

/** What is to be said of a layer of the page: of its step, and that it is not printed. */
function layerFindings({ name, prints, step }: PageLayer): readonly Finding[] {
  const stepped = step === null ? [] : stepFindings(step.group, step.type, `layer "${name}"`)
  if (prints) return stepped
  return [
    ...stepped,
    {
      severity: 'note',
      code: 'layer-not-printed',
      where: `layer "${name}"`,
      message: 'the file says that it is not printed; it counts as hidden',
      fix: 'Nothing, if it is there to be looked at alone.',
    },
  ]
}

/** The spot inks that are painted, in the file's printing order where it states one. */
function drawnChannels(
  { page, leaves, process }: Drawing,
  layers: readonly Layer[],
  leafOf: ReadonlyMap<string, number>,
): readonly Channel[] {
  const taken = new Set<string>()
  return page.inks
    .map((ink, plane) => ({ ink, plane }))
    .slice(process.count)
    .toSorted((a, b) => (a.ink.order ?? page.inks.length) - (b.ink.order ?? page.inks.length))
    .map(({ ink, plane }): Channel => {
      let id = ink.name
      for (let n = 2; taken.has(id); n++) id = `${ink.name} ${n}`
      taken.add(id)
      const printing = layers.filter(layer => {
        const leaf = leafOf.get(layer.id)
        return leaf !== undefined && leaves[leaf]!.inks.includes(plane)
      })
      const step = oneStep(printing)
      return {
        id,
        name: ink.name,
        kind: 'spot',
        ink: ink.alternate,
        opacity: ink.solidity,
        plane,
        layers: printing.map(layer => layer.id),
        ...(step === null ? {} : { step }),
        ...placeIn(page.inks.slice(0, process.count), ink),
      }
    })
}

/** Place of an ink in the file's printing order, and on which side of the process inks it lies there. */
function placeIn(process: readonly Ink[], { order }: Ink): Pick<Channel, 'order' | 'process'> {
  if (order === null) return {}
  const others = process.flatMap(ink => ink.order ?? [])
  if (others.length === 0) return { order }
  return { order, process: order < Math.min(...others) ? 'under' : 'over' }
}

function oneStep(layers: readonly Layer[]): StatedStep | null {
  const [first] = layers
  if (first?.step === undefined) return null
  const { group, type } = first.step
  return layers.every(one => one.step?.group === group && one.step.type === type) ? first.step : null
}

/** Number of the first leaf in a layer of the page or in those inside it. */
function lowestOf({ page, leaves }: Drawing, number: number): number | null {
  const lies = (layer: number | null): boolean =>
    layer !== null && (layer === number || lies(page.layers[layer]!.parent))
  const found = leaves.findIndex(leaf => lies(leaf.layer))
  return found < 0 ? null : found
}

const noBox: Box = { left: 0, top: 0, right: 0, bottom: 0 }
const isEmpty = (box: Box): boolean => box.right <= box.left || box.bottom <= box.top

function unite(a: Box, b: Box): Box {
  if (isEmpty(a)) return b
  if (isEmpty(b)) return a
  return {
    left: Math.min(a.left, b.left),
    top: Math.min(a.top, b.top),
    right: Math.max(a.right, b.right),
    bottom: Math.max(a.bottom, b.bottom),
  }
}

function pixels(bounds: Bounds, scale: number, height: number): Box {
  if (isNowhere(bounds)) return noBox
  const [left, bottom, right, top] = bounds
  return {
    left: Math.floor(left * scale),
    top: Math.floor(height - top * scale),
    right: Math.ceil(right * scale),
    bottom: Math.ceil(height - bottom * scale),
  }
}

/** Letters of a text that name it. */
const mostLetters = 40

function shortened(text: string): string {
  const words = text.replace(/\s+/g, ' ').trim()
  return words.length > mostLetters ? words.slice(0, mostLetters).trimEnd() : words || 'Text'
}
