//! The customer of a proposal, and the name as papers have it.

use std::borrow::Cow;

use crate::base::address::MailAddress;

#[derive(Debug, Clone)]
pub struct Customer {
    pub name: String,
    /// Everybody who signs, as typed; empty where it is `name` alone.
    pub signers: Vec<String>,
    /// The name in Latin letters, where it is written in others.
    pub latin: Option<String>,
    /// False when no font at hand has the letters of the name: papers then have it in Latin letters alone.
    pub name_prints: bool,
    pub address: Vec<String>,
    /// Address for mail.
    pub email: Option<MailAddress>,
    /// A second address that mail goes to, such as that of whoever signs too.
    pub second_email: Option<MailAddress>,
    /// A number for the crew to call.
    pub phone: Option<String>,
    /// The number of the certificate that frees it from tax.
    pub tax_exempt: Option<String>,
}

impl Customer {
    /// Every address that mail goes to.
    pub fn mail_to(&self) -> impl Iterator<Item = &MailAddress> {
        [&self.email, &self.second_email].into_iter().flatten()
    }

    /// The name as it stands on paper: as typed, with its Latin letters behind it where there are some, or
    /// those alone where the name cannot be printed.
    pub fn name_on_paper(&self) -> Cow<'_, str> {
        match &self.latin {
            Some(latin) if !self.name_prints => Cow::Borrowed(latin),
            _ => self.full_name(),
        }
    }

    /// The name as typed, with its Latin letters behind it where there are some.
    pub fn full_name(&self) -> Cow<'_, str> {
        match &self.latin {
            Some(latin) if *latin != self.name => Cow::Owned(format!("{} ({latin})", self.name)),
            _ => Cow::Borrowed(&self.name),
        }
    }
}
