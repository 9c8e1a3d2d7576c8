import { type ReactNode, useEffect, useRef } from 'react'

/** Fields that are seldom needed, on a card that opens upwards over the table; Escape or a click elsewhere closes it. */
export function More({ label, children }: { readonly label: string; readonly children: ReactNode }) {
  const box = useRef<HTMLDetailsElement>(null)
  useEffect(() => {
    const pressed = (event: PointerEvent): void => {
      const { current } = box
      if (current?.open && event.target instanceof Node && !current.contains(event.target))
        current.open = false
    }
    window.addEventListener('pointerdown', pressed)
    return () => window.removeEventListener('pointerdown', pressed)
  }, [])
  return (
    <details
      ref={box}
      className="more"
      onKeyDown={event => {
        if (event.key !== 'Escape' || box.current?.open !== true) return
        event.stopPropagation()
        event.preventDefault()
        box.current.open = false
        box.current.querySelector('summary')?.focus()
      }}
    >
      <summary>{label}</summary>
      <div className="more-card">{children}</div>
    </details>
  )
}
