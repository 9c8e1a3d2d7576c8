import type { Lamp } from '../../core/reference/scene.ts'
import { formWord } from './lampWords.ts'

/** A lamp's outline, small: as wide, high and rolled as it is, and as large as the room allows. */
export function LampOutline({ lamp }: { readonly lamp: Pick<Lamp, 'form'> }) {
  const { form } = lamp
  return (
    <svg className="outline" viewBox="-12 -12 24 24" role="img" aria-label={formWord(form)}>
      {form.kind === 'disc' ? <circle r={8} /> : <Rectangle {...form} />}
    </svg>
  )
}

function Rectangle(form: { readonly widthMm: number; readonly heightMm: number; readonly rollDeg: number }) {
  const scale = 18 / Math.max(form.widthMm, form.heightMm)
  const w = Math.max(2.5, form.widthMm * scale)
  const h = Math.max(2.5, form.heightMm * scale)
  return <rect x={-w / 2} y={-h / 2} width={w} height={h} transform={`rotate(${-form.rollDeg})`} />
}
