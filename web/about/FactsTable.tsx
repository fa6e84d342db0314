import type { ReactNode } from 'react';

export function FactsTable({ rows }: { readonly rows: readonly (readonly [string, ReactNode])[] }) {
  return (
    <table className="facts-table">
      <tbody>
        {rows.map(([name, value]) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            <td>{value}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
