import { useEffect, useRef, useState } from 'react'
import { SmallForm, WordsLine } from './SmallForm.tsx'

interface Props {
  /** Who waived last. */
  readonly by: string
  readonly onWaive: (reason: string, by: string) => void
  readonly onCancel: () => void
}

/** Why a finding may stand, and whose word that is. */
export function WaiveForm({ by, onWaive, onCancel }: Props) {
  const first = useRef<HTMLInputElement>(null)
  const [reason, setReason] = useState('')
  const [name, setName] = useState(by)
  useEffect(() => first.current?.focus(), [])
  const whole = reason.trim() !== '' && name.trim() !== ''
  return (
    <SmallForm does="Let it stand" whole={whole} onSend={() => onWaive(reason, name)} onCancel={onCancel}>
      <WordsLine label="Why it may stand" value={reason} most={500} field={first} onChange={setReason} />
      <WordsLine label="Who says so" value={name} most={100} onChange={setName} />
    </SmallForm>
  )
}
