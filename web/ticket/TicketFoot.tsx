import type { TicketSheet } from '../../shared/contract/ticket.ts';
import { Section } from '../frame/Section.tsx';
import { count } from '../notation/number.ts';
import { words } from '../strings/ticket.ts';

/** At the foot: where this ticket is found again, and by which its files are known. */
export function TicketFoot({ ticket }: { readonly ticket: TicketSheet }) {
  const { permalink, file, sha256 } = ticket;
  return (
    <Section className="sec last ticket-foot">
      <h2>{words.foot}</h2>
      <dl className="asked">
        <div>
          <dt>{words.address}</dt>
          <dd className="code">{`${window.location.origin}${permalink}`}</dd>
        </div>
        <div>
          <dt>{words.file}</dt>
          <dd className="code">{words.bytes(file.name, count(file.bytes))}</dd>
        </div>
        <div>
          <dt>{words.digest}</dt>
          <dd>
            <table className="digests">
              <tbody>
                <tr>
                  <th scope="row">{file.name}</th>
                  <td className="code">{file.sha256}</td>
                </tr>
                {Object.entries(sha256).map(([name, digest]) => (
                  <tr key={name}>
                    <th scope="row">{name}</th>
                    <td className="code">{digest}</td>
                  </tr>
                ))}
              </tbody>
            </table>
            <p className="note">{words.sameBytes}</p>
          </dd>
        </div>
      </dl>
    </Section>
  );
}
