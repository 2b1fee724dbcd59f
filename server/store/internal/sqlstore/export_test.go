package sqlstore

// Selects are the queries that look rows up, by name.
func Selects() map[string]string {
	return map[string]string{
		"entries":                  selectEntries,
		"entry by id":              selectEntryByID,
		"leaves":                   selectLeaves,
		"head":                     selectHead,
		"ledger size":              selectSize,
		"builds":                   selectBuilds,
		"jobs":                     selectJobs,
		"tool uses":                selectToolUses,
		"workshops":                selectWorkshops,
		"document":                 selectDocument,
		"documents":                selectDocuments,
		"documents below":          selectDocumentsBelow,
		"document version":         selectDocumentVersion,
		"document versions":        selectDocumentVersions,
		"attachment":               selectAttachment,
		"attachments":              selectAttachments,
		"attachments of a build":   selectAttachmentsOfBuild,
		"attachments of a person":  selectAttachmentsOfPerson,
		"attachments of both":      selectAttachmentsOfBoth,
		"request":                  selectRequest,
		"claim of the ledger size": claimSize,
		"raising a document":       raiseDocument,
		"erasing a document":       eraseDocument,
		"erasing an attachment":    eraseAttachment,
		"writing of a ledger size": writeSize,
		"version":                  selectVersion,
		"jobs of a build":          selectJobsOfBuild,
	}
}
