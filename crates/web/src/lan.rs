//! The address under which the home network reaches this machine.

use crate::error::WebError;
use std::net::{IpAddr, Ipv4Addr, UdpSocket};

/// An address on some other network, of the block kept for documents (RFC 5737). Nothing is sent to it.
const FAR: (Ipv4Addr, u16) = (Ipv4Addr::new(192, 0, 2, 1), 9);

/// The address from which this machine would speak to the network: choosing the way to a far address tells it, without
/// a single packet.
pub(crate) fn own_address() -> Result<Ipv4Addr, WebError> {
    let asked = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).and_then(|socket| {
        socket.connect(FAR)?;
        socket.local_addr()
    });
    match asked.map(|address| address.ip()) {
        Ok(IpAddr::V4(ip)) if !ip.is_loopback() && !ip.is_unspecified() => Ok(ip),
        Ok(ip) => Err(WebError::NoNetwork(format!("the system names only {ip}"))),
        Err(error) => Err(WebError::NoNetwork(error.to_string())),
    }
}
