import type { XmlElement } from '../../base/xml.ts'
import type { PageLayer } from '../ink/page.ts'
import { namesOf } from './names.ts'

/** Names that programs count up by themselves: they say nothing. */
const counted =
  /^(?:svg|g|group|layer|path|rect|circle|ellipse|line|polyline|polygon|use|text|tspan|image|symbol|shape|object|id|surface)?[-_ ]?\d[\d._-]*$/i

/**
 * What a group or a shape is called by whoever drew it.
 * @param outermost  it is a group that lies in no other: then a name that only its program gave it counts as well
 * @returns null where it has no such name
 */
export function layerName(element: XmlElement, outermost: boolean): string | null {
  // Classes tell styles, not layers.
  const { class: _, ...attributes } = element.attributes
  const names = namesOf({ ...element, attributes })
  const labelled = Object.keys(attributes).some(key => /^(?:[\w-]+:)?label$|^data-name$/.test(key))
  if (labelled || outermost) return names[0] ?? null
  return names.find(name => !counted.test(name)) ?? null
}

/** Layers of a drawing as they are met, bottom first; each id is its name and, where names repeat, its number among them. */
export class LayerList {
  readonly layers: PageLayer[] = []
  private readonly met = new Map<string, number>()

  /** @returns its number */
  add(name: string, parent: number | null, visible: boolean): number {
    const before = this.met.get(name) ?? 0
    this.met.set(name, before + 1)
    this.layers.push({
      id: before === 0 ? name : `${name} ${before + 1}`,
      name,
      parent,
      visible,
      prints: true,
      step: null,
    })
    return this.layers.length - 1
  }
}
