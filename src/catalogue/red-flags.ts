import type { HowKnown } from './types.js';

/** One sign that calls for help. */
export interface RedFlagSign {
  readonly id: string;
  readonly text: string;
  readonly how: HowKnown;
  readonly timing?: string;
}

/**
 * Published signs that call for help, and what the guidance asks. The `concern` is the guidance's own heading and is
 * for those who set rules up: what is shown to anyone is the finding, never a cause.
 */
export interface RedFlag {
  readonly id: string;
  readonly concern: string;
  readonly urgency: string;
  readonly action: string;
  readonly reading?: string;
  readonly signs: readonly RedFlagSign[];
  readonly population: string;
  readonly source: string;
  readonly how: HowKnown;
}

export const redFlags: readonly RedFlag[] = [
  {
    id: 'compartment-syndrome',
    concern: 'acute limb compartment syndrome',
    urgency: 'immediate',
    action:
      'call senior surgical review at once; release all circumferential dressings and casts to skin; keep the limb at heart level; decompression target within 1 hour of the decision',
    reading:
      'either of the first two signs alone is enough to escalate; do not wait for pulse, colour or sensation change',
    signs: [
      {
        id: 'pain-out-of-proportion',
        text: 'pain out of proportion to the injury or treatment',
        how: 'read',
        timing: 'early',
      },
      {
        id: 'pain-passive-stretch',
        text: 'pain on passive movement of the muscles of the compartment',
        how: 'read',
        timing: 'early',
      },
      {
        id: 'pain-not-falling',
        text: 'pain scores not falling with analgesia',
        how: 'read',
        timing: 'early',
      },
      { id: 'tense-swelling', text: 'tense swollen compartment', how: 'read', timing: 'early' },
      { id: 'sensation-change', text: 'altered sensation or paraesthesia', how: 'read', timing: 'late' },
      { id: 'weakness', text: 'weakness or loss of active movement', how: 'from memory', timing: 'late' },
      { id: 'colour-change', text: 'change of skin colour', how: 'read', timing: 'late' },
      {
        id: 'pulse-change',
        text: 'absent or weak pulse: usually NOT present; a normal pulse does not exclude it',
        how: 'read',
        timing: 'late',
      },
    ],
    population:
      'any age; limb injury, surgery, cast, crush, tibial or forearm fracture, high-energy wrist fracture, coagulopathy',
    source: 'boast-10',
    how: 'read',
  },
  {
    id: 'compartment-monitoring',
    concern: 'patient at risk of compartment syndrome: observation interval',
    urgency: 'scheduled',
    action: 'hourly for the first 24 h, then 4-hourly from 24 to 48 h; back to hourly whenever suspected',
    signs: [
      { id: 'at-risk-fracture', text: 'tibial, forearm or high-energy distal radius fracture', how: 'read' },
      {
        id: 'at-risk-coag',
        text: 'orthopaedic injury or operation with coagulopathy or anticoagulant',
        how: 'read',
      },
      { id: 'at-risk-crush', text: 'crush injury', how: 'read' },
      { id: 'at-risk-highenergy', text: 'high-impact trauma including open fracture', how: 'read' },
      {
        id: 'at-risk-cast',
        text: 'new traction, tight cast or circumferential bandage: consider',
        how: 'read',
      },
      {
        id: 'block',
        text: 'nerve block, epidural or reduced consciousness hides the pain: pain score cannot be relied on',
        how: 'read',
      },
    ],
    population: 'inpatients',
    source: 'limb-observation-chart-2014',
    how: 'read',
  },
  {
    id: 'acute-limb-ischaemia',
    concern: 'acute limb ischaemia',
    urgency: 'immediate',
    action: 'immediate telephone call to the on-call vascular team; transfer',
    signs: [
      { id: 'pain', text: 'sudden pain at rest', how: 'read' },
      { id: 'pallor', text: 'pale limb', how: 'read' },
      { id: 'pulseless', text: 'no pulse', how: 'read' },
      { id: 'cold', text: 'perishing cold limb', how: 'read' },
      { id: 'paraesthesia', text: 'altered sensation: threatened limb', how: 'read' },
      { id: 'paralysis', text: 'loss of movement: advanced', how: 'read' },
    ],
    population: 'adults, upper or lower limb, within 2 weeks of onset',
    source: 'nhs-limb-ischaemia',
    how: 'read',
  },
  {
    id: 'septic-arthritis',
    concern: 'hot swollen joint: septic arthritis until proven otherwise',
    urgency: 'same day, urgent',
    action:
      'urgent medical / orthopaedic review; joint aspiration and blood cultures before antibiotics; prosthetic joint goes to orthopaedics',
    reading: 'hot + swollen + tender + restricted in one joint with a short history',
    signs: [
      { id: 'hot', text: 'hot joint', how: 'read' },
      { id: 'swollen', text: 'swollen joint', how: 'read' },
      { id: 'tender', text: 'tender joint', how: 'read' },
      { id: 'restricted', text: 'restricted movement', how: 'read' },
      { id: 'short-history', text: 'short history, 2 weeks or less', how: 'read' },
      { id: 'no-fever', text: 'absence of fever does not exclude it', how: 'read' },
    ],
    population: 'adults, native joint, not the axial skeleton',
    source: 'coakley-2006',
    how: 'read',
  },
  {
    id: 'cauda-equina',
    concern: 'suspected cauda equina syndrome',
    urgency: 'immediate',
    action:
      'emergency hospital referral; emergency MRI as soon as possible and within 4 hours of request; surgical team',
    reading: 'any one sign; refer on symptoms, not only on signs',
    signs: [
      {
        id: 'bladder',
        text: 'new disturbance of bladder function: retention, hesitancy, altered sensation of flow, incontinence',
        how: 'read',
      },
      { id: 'bowel', text: 'new disturbance of bowel function', how: 'read' },
      { id: 'saddle', text: 'altered sensation around perineum, anus, genitals', how: 'read' },
      { id: 'bilateral-leg', text: 'weakness or other deficit in both legs', how: 'read' },
      { id: 'bilateral-sciatica', text: 'leg pain in both legs, or one side becoming both', how: 'read' },
      { id: 'sexual', text: 'new sexual dysfunction', how: 'read' },
      {
        id: 'pvr',
        text: 'post-void residual 200 mL or more makes it likelier; less does not exclude',
        how: 'read',
      },
    ],
    population: 'adults with back and/or leg pain, onset or worsening within 14 days',
    source: 'cauda-equina-pathway-2023',
    how: 'read',
  },
  {
    id: 'spinal-injury',
    concern: 'suspected spinal injury: do not move',
    urgency: 'immediate',
    action:
      'keep the spine still: manual in-line immobilisation, avoid moving the rest of the spine; stop the examination of neck and trunk movement; call for help',
    reading:
      'a range-of-motion entry for cervical or thoracolumbar spine should be blocked or queried while this flag is open',
    signs: [
      {
        id: 'mechanism',
        text: 'dangerous mechanism: fall from more than 3 m, axial load, high-speed crash, rollover, ejection',
        how: 'read',
      },
      { id: 'age65', text: '65 or over with pain in thoracic or lumbosacral spine', how: 'read' },
      { id: 'spinal-pain', text: 'any spinal pain after trauma', how: 'read' },
      { id: 'weak-hands-feet', text: 'hand or foot weakness', how: 'read' },
      { id: 'sensation', text: 'altered or absent sensation in hands or feet', how: 'read' },
      { id: 'midline-tender', text: 'new deformity or midline bony tenderness', how: 'read' },
      {
        id: 'distracting',
        text: 'significant distracting injury, intoxication, confusion, reduced consciousness',
        how: 'read',
      },
      { id: 'priapism', text: 'priapism', how: 'read' },
      {
        id: 'past-spine',
        text: 'known spinal disease or surgery, osteoporosis, ankylosing spondylitis',
        how: 'read',
      },
      {
        id: 'cannot-rotate',
        text: 'cannot actively rotate the neck 45 deg left and right (Canadian C-spine rule)',
        how: 'read',
      },
    ],
    population: 'adults and children after trauma or an inpatient fall',
    source: 'nice-ng41',
    how: 'read',
  },
  {
    id: 'mscc',
    concern: 'suspected metastatic spinal cord compression',
    urgency: 'immediate to 24 h',
    action:
      'contact the MSCC coordinator; immediate if neurological signs, within 24 h if pain only; nurse flat if unstable spine suspected',
    signs: [
      { id: 'cancer', text: 'past or current cancer', how: 'read' },
      {
        id: 'progressive-pain',
        text: 'severe, progressive or unremitting spinal pain, or pain at night',
        how: 'read',
      },
      { id: 'leg-weakness', text: 'limb weakness or difficulty walking', how: 'from memory' },
      { id: 'sensory', text: 'sensory loss', how: 'from memory' },
      { id: 'bladder-bowel', text: 'bladder or bowel change', how: 'from memory' },
    ],
    population: 'adults with cancer',
    source: 'nice-ng234',
    how: 'from memory',
  },
  {
    id: 'fracture-hip',
    concern: 'suspected hip fracture',
    urgency: 'urgent',
    action:
      'do not stand or hoist with a sling under the hip; flat lifting; pain relief now; hip radiograph; orthopaedic review',
    signs: [
      { id: 'hip-pain', text: 'hip or groin pain after a fall or trauma', how: 'read' },
      { id: 'no-weight', text: 'cannot bear weight', how: 'read' },
      {
        id: 'short-er',
        text: 'leg shortened and externally rotated (absent in impacted fractures, about 15 percent)',
        how: 'read',
      },
      { id: 'reduced-move', text: 'much reduced hip movement', how: 'read' },
    ],
    population: 'adults, mostly older; after an inpatient fall check for injury before moving',
    source: 'hip-fracture-guidance',
    how: 'read',
  },
  {
    id: 'fracture-ankle-foot',
    concern: 'possible ankle or foot fracture (Ottawa rules)',
    urgency: 'same day',
    action: 'radiograph when any sign is present',
    signs: [
      {
        id: 'malleolus-lateral',
        text: 'bone tenderness, posterior edge of the distal 6 cm or tip of the lateral malleolus',
        how: 'read',
      },
      {
        id: 'malleolus-medial',
        text: 'bone tenderness, posterior edge of the distal 6 cm or tip of the medial malleolus',
        how: 'read',
      },
      { id: 'fifth-metatarsal', text: 'bone tenderness, base of fifth metatarsal', how: 'read' },
      { id: 'navicular', text: 'bone tenderness, navicular', how: 'read' },
      { id: 'four-steps', text: 'cannot take four steps both at the time and now', how: 'read' },
    ],
    population: 'adults after injury',
    source: 'ottawa-ankle-1994',
    how: 'read',
  },
  {
    id: 'fracture-knee',
    concern: 'possible knee fracture (Ottawa rule)',
    urgency: 'same day',
    action: 'radiograph when any sign is present',
    reading: 'knee flexion below 90 deg after injury is a range-of-motion trigger',
    signs: [
      { id: 'age55', text: 'age 55 or over', how: 'read' },
      { id: 'patella', text: 'isolated tenderness of the patella', how: 'read' },
      { id: 'fibular-head', text: 'tenderness at the fibular head', how: 'read' },
      { id: 'flex90', text: 'cannot flex the knee to 90 deg', how: 'read' },
      { id: 'four-steps', text: 'cannot take four steps both at the time and now', how: 'read' },
    ],
    population: 'adults after knee injury',
    source: 'stiell-1995',
    how: 'read',
  },
  {
    id: 'dvt',
    concern: 'suspected deep vein thrombosis',
    urgency: 'same day',
    action: 'Wells score; likely at 2 points or more: ultrasound pathway; below 2: D-dimer pathway',
    signs: [
      { id: 'active-cancer', text: 'active cancer: 1', how: 'read' },
      { id: 'paralysis-plaster', text: 'paralysis, paresis or recent plaster of the leg: 1', how: 'read' },
      { id: 'bedridden', text: 'bedridden 3 days or more, or major surgery within 12 weeks: 1', how: 'read' },
      { id: 'tender-vein', text: 'tenderness along the deep veins: 1', how: 'read' },
      { id: 'entire-leg', text: 'entire leg swollen: 1', how: 'read' },
      {
        id: 'calf-3cm',
        text: 'calf at least 3 cm larger than the other side, 10 cm below the tibial tuberosity: 1',
        how: 'read',
      },
      { id: 'pitting', text: 'pitting oedema of that leg only: 1', how: 'read' },
      { id: 'collateral', text: 'collateral superficial veins: 1', how: 'read' },
      { id: 'previous-dvt', text: 'previous DVT: 1', how: 'read' },
      { id: 'alternative', text: 'other diagnosis at least as likely: -2', how: 'read' },
    ],
    population: 'adults, leg symptoms',
    source: 'wells-2003',
    how: 'read',
  },
  {
    id: 'necrotising-infection',
    concern: 'suspected necrotising soft-tissue infection',
    urgency: 'immediate',
    action: 'immediate surgical referral, do not wait for tests; think sepsis',
    signs: [
      {
        id: 'severe-pain',
        text: 'severe pain out of proportion, or loss of feeling over the area',
        how: 'read',
      },
      { id: 'oedema-beyond', text: 'swelling extending beyond the redness', how: 'read' },
      { id: 'rapid', text: 'rapid progression', how: 'read' },
      { id: 'systemic', text: 'systemic signs of infection', how: 'read' },
      { id: 'crepitus', text: 'crepitus, blisters or grey skin', how: 'read', timing: 'late' },
    ],
    population: 'adults',
    source: 'necrotising-guidance',
    how: 'read',
  },
  {
    id: 'spinal-red-flags',
    concern: 'back pain with signs of serious disease',
    urgency: 'urgent (hours to days)',
    action: 'medical review; route by suspected cause',
    signs: [
      { id: 'cancer-history', text: 'history of cancer', how: 'read' },
      { id: 'night-pain', text: 'persistent night pain unrelieved by position', how: 'read' },
      { id: 'weight-loss', text: 'unexplained weight loss', how: 'read' },
      { id: 'age', text: 'new onset over 50 or under 20', how: 'read' },
      { id: 'fever', text: 'fever, chills, rigors', how: 'read' },
      {
        id: 'immunosuppression',
        text: 'immunosuppression, intravenous drug use, recent bacterial infection',
        how: 'read',
      },
      { id: 'trauma', text: 'major trauma, or minor trauma with osteoporosis or steroids', how: 'read' },
      { id: 'deformity', text: 'structural deformity of the spine', how: 'read' },
      { id: 'neuro', text: 'sensory or motor loss', how: 'read' },
    ],
    population: 'adults',
    source: 'nhs-gloucestershire-spine',
    how: 'read',
  },
  {
    id: 'new-focal-weakness',
    concern: 'new or falling limb strength',
    urgency: 'urgent',
    action:
      'medical review the same day; immediate if rapid, both legs, or with face or speech change (stroke pathway)',
    signs: [
      {
        id: 'drop-grade',
        text: 'fall of one whole MRC grade or more since the last examination',
        how: 'from memory',
      },
      { id: 'foot-drop', text: 'new foot drop', how: 'read' },
      { id: 'progressive', text: 'severe or progressive deficit', how: 'read' },
    ],
    population: 'inpatients',
    source: 'nhs-lothian-foot-drop',
    how: 'read',
  },
];

/** The red flags that were read, each with only those of its signs that were read. */
export function readRedFlags(): readonly RedFlag[] {
  return redFlags
    .filter(({ how }) => how === 'read')
    .map((flag) => ({ ...flag, signs: flag.signs.filter(({ how }) => how === 'read') }));
}

/** When movement or strength must not be tested. */
export interface StopRule {
  readonly id: string;
  readonly when: string;
  readonly rule: string;
  readonly source: string;
  readonly how: HowKnown;
}

export const stopRules: readonly StopRule[] = [
  {
    id: 'stop-unstable-spine',
    when: 'suspected or uncleared spinal injury',
    rule: 'do not test neck or trunk movement or strength',
    source: 'nice-ng41',
    how: 'read',
  },
  {
    id: 'stop-fracture',
    when: 'suspected fracture or dislocation',
    rule: 'do not test movement or strength at or next to a suspected or unfixed fracture',
    source: 'teaching-rule',
    how: 'from memory',
  },
  {
    id: 'stop-surgeon-limit',
    when: 'after surgery',
    rule: 'respect postoperative limits on movement and load (for example hip precautions, tendon repair)',
    source: 'teaching-rule',
    how: 'from memory',
  },
  {
    id: 'stop-dvt-grip',
    when: 'suspected DVT',
    rule: 'none for grip; avoid vigorous calf testing while DVT is being ruled out',
    source: 'teaching-rule',
    how: 'from memory',
  },
];
