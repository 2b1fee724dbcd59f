package server

import (
	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// An access says who may call a method. What depends on the object of a call,
// such as whose work is signed, is for package procedure.
type access struct {
	// open methods need no session.
	open bool
	// least is the lowest rank that may call; 0 means any.
	least procedure.Rank
}

var (
	anybody = access{open: true}
	session = access{}
	seniors = access{least: procedure.SeniorBuilder}
	foremen = access{least: procedure.Foreman}
)

// rules has a line for every method of the API; a method without one is
// refused, and a test finds it.
var rules = map[string]access{
	pb.SessionService_StartSession_FullMethodName: anybody, // until credentials exist
	pb.SessionService_EndSession_FullMethodName:   anybody, // ends only what its own token opened

	pb.PersonService_EnrolPerson_FullMethodName:  anybody, // the method asks for a foreman once there is one
	pb.PersonService_ListPeople_FullMethodName:   anybody, // until credentials exist
	pb.PersonService_UpdatePerson_FullMethodName: foremen,

	pb.CatalogueService_ListProcedures_FullMethodName: session,
	pb.CatalogueService_GetProcedure_FullMethodName:   session,
	pb.CatalogueService_ListPartRoles_FullMethodName:  session,
	pb.CatalogueService_ListContacts_FullMethodName:   session,

	pb.BuildService_CreateBuild_FullMethodName:     session,
	pb.BuildService_GetBuild_FullMethodName:        session,
	pb.BuildService_ListBuilds_FullMethodName:      session,
	pb.BuildService_UpdateSheet_FullMethodName:     session,
	pb.BuildService_PreviewPlan_FullMethodName:     session,
	pb.BuildService_PlanWhole_FullMethodName:       session,
	pb.BuildService_GetBuildCard_FullMethodName:    session,
	pb.BuildService_GetBuildHistory_FullMethodName: session,

	pb.BenchService_OpenJob_FullMethodName:       session,
	pb.BenchService_AppendEntries_FullMethodName: session,
	pb.BenchService_SwapPart_FullMethodName:      session,
	pb.BenchService_MoveEntry_FullMethodName:     session,
	pb.BenchService_GetJob_FullMethodName:        session,
	pb.BenchService_ListJobs_FullMethodName:      session,
	pb.BenchService_ListEntries_FullMethodName:   session,
	pb.BenchService_WatchBuild_FullMethodName:    session,
	pb.BenchService_AddPicture_FullMethodName:    session,
	pb.BenchService_GetAttachment_FullMethodName: session,

	pb.ToolService_CreateTool_FullMethodName:     seniors,
	pb.ToolService_GetTool_FullMethodName:        session,
	pb.ToolService_ListTools_FullMethodName:      session,
	pb.ToolService_UpdateTool_FullMethodName:     seniors,
	pb.ToolService_AddCalibration_FullMethodName: seniors,
	pb.ToolService_QuarantineTool_FullMethodName: session,
	pb.ToolService_ReturnTool_FullMethodName:     foremen,

	pb.AuditService_AuditBuild_FullMethodName:     session,
	pb.AuditService_AuditJob_FullMethodName:       session,
	pb.AuditService_AuditAll_FullMethodName:       seniors,
	pb.AuditService_ListAuditRules_FullMethodName: session,

	pb.TeachingService_ProposeCurriculum_FullMethodName: session,

	pb.NumbersService_Joint_FullMethodName:      session,
	pb.NumbersService_Clamp_FullMethodName:      session,
	pb.NumbersService_Spline_FullMethodName:     session,
	pb.NumbersService_Setting_FullMethodName:    session,
	pb.NumbersService_Decide_FullMethodName:     session,
	pb.NumbersService_Taper_FullMethodName:      session,
	pb.NumbersService_Prep_FullMethodName:       session,
	pb.NumbersService_Thread_FullMethodName:     session,
	pb.NumbersService_LookAlikes_FullMethodName: session,

	pb.FitService_ListFitRules_FullMethodName:    session,
	pb.FitService_CheckFit_FullMethodName:        session,
	pb.FitService_CheckSheetFit_FullMethodName:   session,
	pb.FitService_FindBodies_FullMethodName:      session,
	pb.FitService_FindShells_FullMethodName:      session,
	pb.FitService_CheckDiscChange_FullMethodName: session,

	"/grpc.health.v1.Health/Check": anybody,
	"/grpc.health.v1.Health/List":  anybody,
	"/grpc.health.v1.Health/Watch": anybody,

	// Registered only when asked for.
	"/grpc.reflection.v1.ServerReflection/ServerReflectionInfo":      anybody,
	"/grpc.reflection.v1alpha.ServerReflection/ServerReflectionInfo": anybody,
}

// may reports whether somebody with a session may call.
func (a access) may(p Principal) error {
	if p.Rank < a.least {
		return errRank
	}
	return nil
}
